/** `against_model`: where each figure of the portrait lies among healthy vehicles of the model, the most unusual first. */
import type { Session } from '../../manifest/session.ts';
import type { Report } from '../contract/report.ts';
import { six, sixOrNull } from '../report-session.ts';
import { placesOf } from './places.ts';
import { type Healthy, type ModelValue, modelValues, valueKey } from './values.ts';

/** Null where there is no healthy vehicle to hold it against. */
export function againstModel(
  portrait: Report['portrait'],
  { vehicle }: Session,
  healthy: Healthy | null,
): Report['against_model'] {
  if (!healthy || healthy.vehicles.length === 0) return null;
  const own = modelValues(portrait);
  const places = placesOf(own, healthy.vehicles, vehicle.systemV);
  return {
    model: vehicle.model ?? null,
    from: healthy.from,
    vehicles: healthy.vehicles.length,
    figures: places.map(({ figure, of, unit, value, range, chance, isOutside }) => ({
      figure,
      of,
      unit,
      value: six(value),
      vehicles: range.n,
      method: range.method,
      low: six(range.low),
      high: six(range.high),
      chance: sixOrNull(chance),
      outside: isOutside,
    })),
    missing: missingOf(own, healthy.vehicles),
  };
}

/** Figures that each of the healthy vehicles has and this log does not show. */
function missingOf(own: readonly ModelValue[], vehicles: readonly (readonly ModelValue[])[]) {
  const here = new Set(own.map(valueKey));
  const [first = [], ...others] = vehicles;
  const rest = others.map((values) => new Set(values.map(valueKey)));
  return first
    .filter((value) => !here.has(valueKey(value)))
    .filter((value) => rest.every((keys) => keys.has(valueKey(value))))
    .map(({ figure, of }) => ({ figure, of }));
}
