/** What a person types for a field, in the manifest's own words: `70` for `70 Ah`, `Diesel` for `combustion`, `Berlin` for `Europe/Berlin`. */
import { type DraftField, type DraftPath, fieldFault, pathOf } from './draft-fields.ts';
import { meant, SAID_AS } from './said-as.ts';

const UNITS: Readonly<Partial<Record<DraftPath, string>>> = {
  'vehicle.odometer': 'km',
  'vehicle.system_voltage': 'V',
  'battery.capacity': 'Ah',
  'battery.cold_cranking': 'A',
  'battery.reserve_capacity': 'min',
};

/** The answer as the manifest takes it; as it was typed where nothing makes it acceptable. */
export function understoodAnswer(field: DraftField, typed: string): string {
  if (fieldFault(field, typed) === undefined) return typed;
  const path = pathOf(field);
  const unit = UNITS[path];
  const tries = [
    unit !== undefined && /\d$/.test(typed) ? `${typed} ${unit}` : undefined,
    wordFor(path, typed),
    path === 'session.timezone' ? zoneFor(typed) : undefined,
    typed.toLowerCase(),
    typed.toUpperCase(),
  ];
  return tries.find((text) => text !== undefined && fieldFault(field, text) === undefined) ?? typed;
}

function wordFor(path: DraftPath, typed: string): string | undefined {
  return meant(typed, SAID_AS[path as keyof typeof SAID_AS]);
}

/** Of a city that no second zone is named after. */
function zoneFor(typed: string): string | undefined {
  const plain = (text: string) => text.toLowerCase().replace(/[\s_-]+/g, '_');
  const found = Intl.supportedValuesOf('timeZone').filter(
    (zone) => plain(zone.slice(zone.lastIndexOf('/') + 1)) === plain(typed),
  );
  return found.length === 1 ? found[0] : undefined;
}
