/** A vehicle held against others of its model. Ranges themselves: test/published/tolerance.test.ts. */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../../src/node/content.ts';
import { againstModel } from '../../../src/report/model/against-model.ts';
import { figureName } from '../../../src/report/model/model-words.ts';
import { modelPicture } from '../../../src/report/model/picture.ts';
import { alongRange } from '../../../src/report/model/places.ts';
import type { ModelValue } from '../../../src/report/model/values.ts';
import { sampleReport, session } from '../sample.ts';

const draw = (value: number): ModelValue => ({ figure: 'state-current', of: 'asleep', unit: 'A', value });
const topUp = (value: number): ModelValue => ({ figure: 'top-up-charge', of: null, unit: 'Ah', value });
const length = (value: number): ModelValue => ({ figure: 'settling-length', of: null, unit: 's', value });
const ownDraw = 0.3;
const three = (p50: number) => ({ p05: p50, p50, p95: p50 });
const sample = sampleReport();
const asleep = {
  ...{ kind: 'asleep', seconds: 3600, share: 1, current_a: three(-ownDraw), voltage_v: three(12.5) },
  ...{ current_u_a: 0.002, voltage_u_v: 0.01 },
};
const ownReport = { ...sample, portrait: sample.portrait && { ...sample.portrait, states: [asleep] } };
const { portrait } = ownReport;

const held = (vehicles: readonly (readonly ModelValue[])[]) =>
  againstModel(portrait, session, vehicles.length > 0 ? { from: 'model', vehicles } : null);

describe('a complaint against its model', () => {
  it('names what lies outside, the most unusual first, and what every healthy vehicle has and it has not', () => {
    const vehicles = [0.98, 0.99, 1, 1.01, 1.02, 1].map((factor) => [
      draw(0.1 * ownDraw * factor),
      length(900 * factor),
      topUp(factor),
    ]);
    const against = held(vehicles);
    expect(against).toMatchObject({ from: 'model', vehicles: 6 });
    expect(against?.figures[0]).toMatchObject({
      figure: 'state-current',
      outside: true,
      method: 'normal',
      vehicles: 6,
    });
    expect(against?.figures[0]?.chance).toBeLessThan(0.001);
    expect(against?.figures[0]?.low).toBeLessThan(0.1 * ownDraw);
    expect(against?.missing).toContainEqual({ figure: 'top-up-charge', of: null });
    const chances = against?.figures.map(({ chance }) => chance ?? 1) ?? [];
    expect(chances).toEqual([...chances].sort((a, b) => a - b));
  });

  it('accuses nobody beside too few', () => {
    const against = held([[draw(0.1 * ownDraw)], [draw(0.11 * ownDraw)]]);
    expect(against?.figures).toMatchObject([{ method: 'seen', outside: false, chance: null, vehicles: 2 }]);
    expect(held([])).toBeNull();
    expect(held([[]])).toMatchObject({ figures: [], missing: [] });
  });

  it('has a picture of each figure, and none where nothing is held', () => {
    const content = loadContent('en');
    const against_model = held([0.98, 1, 1.02, 1, 0.99].map((factor) => [draw(ownDraw * factor)]));
    const picture = modelPicture({ ...ownReport, against_model }, content);
    expect(picture?.name).toBe('portrait-model');
    expect(JSON.stringify(picture?.spec)).toContain('Draw asleep');
    expect(modelPicture({ ...ownReport, against_model: null }, content)).toBeNull();
  });
});

describe('the place within a range', () => {
  it('is 0 at its least and 1 at its most, by factors for draws', () => {
    expect(alongRange({ ...draw(0.02), low: 0.01, high: 0.04 })).toBeCloseTo(0.5);
    expect(
      alongRange({ figure: 'charging-voltage', of: '2-5', unit: 'V', value: 14.1, low: 14, high: 14.4 } as never),
    ).toBeCloseTo(0.25);
    expect(alongRange({ ...draw(0.02), low: 0.02, high: 0.02 })).toBe(0.5);
    expect(alongRange({ ...draw(0.03), low: 0.02, high: 0.02 })).toBe(2);
  });
});

describe('the name of a figure', () => {
  it.each([
    ['charging-voltage', '80-', 'Voltage while driving, 80+ min'],
    ['charging-voltage', '2-5', 'Voltage while driving, 2–5 min'],
    ['shutdown-level', '1/3', 'Shutdown step 1/3, draw'],
    ['circuit-off-after', 'Gateway {of}', '“Gateway {of}” dark after key-off'],
    ['state-current', 'asleep', 'Draw asleep'],
  ])('%s of %s', (figure, of, name) => expect(figureName({ figure, of }, loadContent('en'))).toBe(name));
});
