/** A model's ranges and who lies outside, from summaries alone. */
import { describe, expect, it } from 'vitest';
import { modelsOf, normalOnes, placedIn } from '../../../src/archive/models/models.ts';
import type { Summary } from '../../../src/archive/summary/summary.ts';
import { rangeOf, valuesOf } from '../../../src/report/model/places.ts';
import type { ModelValue } from '../../../src/report/model/values.ts';

const DRAW = { figure: 'state-current', of: 'asleep', unit: 'A' } as const;

function session(
  k: number,
  drawA: number,
  change: Partial<Summary['session']> = {},
  found: Summary['found'] = [],
): Summary {
  const id = `session-${k}`;
  const vehicle = {
    description: 'Invented',
    model: 'Estate 1.6',
    registration: `R-${k}`,
    vin: null,
    odometer_km: null,
    powertrain: 'combustion' as const,
    system_voltage_v: 12 as const,
  };
  return {
    session: {
      ...{ id, title: id, purpose: 'baseline', concern: null, repair_order: null, technician: null, timezone: 'UTC' },
      vehicle,
      ...change,
    },
    log: { start: `2026-03-${String(k + 1).padStart(2, '0')}T00:00:00.000Z` },
    status: 'clear',
    headlines: [],
    found,
    figures: {},
    standS: null,
    ofModel: [{ ...DRAW, value: drawA }],
  };
}

const DRAWS = [0.0142, 0.0151, 0.0139, 0.0147, 0.0155, 0.0144, 0.0149, 0.0141, 0.0152, 0.0146, 0.0148];
const family = DRAWS.map((draw, k) => session(k, draw));

describe('a model', () => {
  it('is told by its name, however written, and by powertrain and voltage', () => {
    const [one] = family;
    if (!one) throw new Error();
    const { vehicle } = one.session;
    const called = (k: number, change: Partial<typeof vehicle>) =>
      session(k, 0.015, { vehicle: { ...vehicle, ...change } });
    const models = modelsOf([
      called(0, {}),
      called(1, { model: 'ESTATE 1.6' }),
      called(2, { powertrain: 'hybrid' }),
      called(3, { model: null }),
    ]);
    expect(models.map(({ sessions }) => sessions.length).sort()).toEqual([1, 2]);
    for (const { file } of models) expect(file).toMatch(/^[a-z0-9-]+\.html$/);
  });

  it('is normal by the last baseline without a fault of each vehicle', () => {
    const [model] = modelsOf([
      session(0, 0.1, { vehicle: { ...session(1, 0).session.vehicle } }),
      session(1, 0.014),
      session(2, 0.09, { purpose: 'complaint' }),
      session(3, 0.09, {}, [{ check: 'parked-draw', name: 'Draw', status: 'fault' }]),
    ]);
    expect(model?.healthy.map(({ session: { id } }) => id)).toEqual(['session-1']);
  });
});

describe('twelve vehicles of which one is odd', () => {
  const odd = session(20, 0.024);
  const [model] = modelsOf([...family, odd]);
  const healthy = model?.healthy ?? [];
  const places = (summary: Summary) => placedIn(summary, healthy);

  it('name it, with the probability, and nobody else', () => {
    expect(healthy).toHaveLength(12);
    const outside = [...family, odd].filter((one) => places(one).some(({ isOutside }) => isOutside));
    expect(outside.map(({ session: { id } }) => id)).toEqual(['session-20']);
    const [place] = places(odd);
    expect(place?.chance).toBeLessThan(0.001);
    expect(place?.range.n).toBe(11);
  });

  it('do not widen the range by the odd one, which the next like it would then lie in', () => {
    const values = valuesOf(
      normalOnes(healthy).map(({ ofModel }) => ofModel),
      'state-current\0asleep',
    );
    expect(values.toSorted()).toEqual(DRAWS.toSorted());
  });
});

describe('few vehicles', () => {
  it('accuse nobody', () => {
    const four = family.slice(0, 4);
    const [place] = placedIn(session(9, 0.2), four);
    expect(place).toMatchObject({ chance: null, isOutside: false, range: { method: 'seen', n: 4 } });
  });
  it('of a figure that nobody else has give no range', () => {
    const other: ModelValue = { figure: 'top-up-charge', of: null, unit: 'Ah', value: 1 };
    expect(placedIn({ ...session(9, 0.01), ofModel: [other] }, family)).toEqual([]);
    expect(rangeOf(other, [], 12)).toBeNull();
  });
});
