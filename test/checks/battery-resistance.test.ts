import { expect, test } from 'vitest';
import { check } from '../../src/checks/battery-resistance.ts';
import { nothing, session, standing, week } from './analysis-fixture.ts';
import { wave, withCranks } from './tile-story.ts';
import { answerOf } from './words.ts';

/** EN, 680 A: (12.55 − 7.5) V / 680 A = 7.43 mΩ. */
const RATED = { coldCrankingA: 680, crankingStandard: 'EN' } as const;
const UNRATED = { coldCrankingA: undefined, crankingStandard: undefined };

interface Told {
  readonly milliohm: number | ((k: number) => number);
  readonly crankV?: number;
  readonly restV?: number;
  readonly temperatureC?: number;
  readonly battery?: object;
  readonly u?: number;
}

/** A week of cranks from 12.5 V down to `crankV`, through so many mΩ. */
function ask({ milliohm, crankV = 10.4, restV = 12.62, temperatureC = 15, battery = RATED, u = 0.1 }: Told) {
  const analysis = withCranks(week({ crankV, restV, temperatureC }), (k) => ({
    resistanceOhm: { value: (typeof milliohm === 'number' ? milliohm : milliohm(k)) / 1000, u: u / 1000 },
  }));
  return answerOf(check, analysis, session({ battery }));
}

test('just below what the rating allows nothing is decided: the rating’s test holds polarisation, which a crank hardly shows', () => {
  // At 15 °C 5.74 mΩ are allowed, four fifths of it are 4.59 mΩ.
  expect(ask({ milliohm: 4.5 })).toMatchObject({ status: 'clear' });
  expect(ask({ milliohm: 4.7 })).toMatchObject({ status: 'undecided', reason: 'polarisation-open' });
});

test('4 mΩ is within the rating; the rating is what EN 50342-1 makes of it', () => {
  const finding = ask({ milliohm: 4 });
  expect(finding).toMatchObject({ status: 'clear', measured: { value: 0.004, unit: 'Ω' } });
  // 7.5 V under 680 A at −18 °C; at 15 °C a load test leaves some 0.78 of the fall that it leaves then.
  expect(finding.limit?.value).toBeCloseTo((0.775 * (12.54 - 7.5)) / 680, 4);
});

test('9 mΩ and a voltage that gives way is a fault; where the voltage holds it is worth watching', () => {
  expect(ask({ milliohm: 9, crankV: 9.0 })).toMatchObject({ status: 'fault' });
  expect(ask({ milliohm: 9, crankV: 10.4 })).toMatchObject({ status: 'watch', variant: 'voltage-holds' });
});

test('far beyond the rating no voltage is asked: 14 mΩ', () => {
  expect(ask({ milliohm: 14, crankV: 10 })).toMatchObject({ status: 'fault' });
});

test('a starter that seems to draw too little puts the path in doubt, not the battery', () => {
  expect(ask({ milliohm: 20, crankV: 10.9 })).toMatchObject({ status: 'undecided', reason: 'path-in-doubt' });
});

test('a low charge raises it: charge first', () => {
  const low = ask({ milliohm: 9, crankV: 9.0, restV: 12.0 });
  expect(low.status).toBe('watch');
  expect(low.variant).toBeUndefined();
});

test('below −18 °C the rating says nothing', () => {
  expect(ask({ milliohm: 9, crankV: 8.2, temperatureC: -24 })).toMatchObject({
    status: 'undecided',
    reason: 'colder-than-rating',
  });
});

test('too near the limit gives no verdict', () => {
  expect(ask({ milliohm: 5.7 })).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
});

test('without a rating, and for lfp, the figure is told and nothing judged', () => {
  expect(ask({ milliohm: 5, battery: UNRATED })).toMatchObject({ status: 'undecided', reason: 'no-rating' });
  expect(ask({ milliohm: 3, battery: { ...RATED, chemistry: 'lfp' } })).toMatchObject({
    status: 'undecided',
    reason: 'not-lead',
    measured: { value: 0.003 },
  });
});

test('a rise of half within the log is worth watching, one of a tenth is not; with or without a rating', () => {
  const rising = (to: number) => (k: number) => (k < 7 ? 3 : to) + 0.02 * (k % 3);
  expect(ask({ milliohm: rising(4.5) })).toMatchObject({ status: 'watch', variant: 'rising' });
  expect(ask({ milliohm: rising(3.3) }).status).toBe('clear');
  expect(ask({ milliohm: rising(4.5), battery: UNRATED })).toMatchObject({ status: 'watch', variant: 'rising' });
});

test('a rise that the cold explains is none', () => {
  const analysis = withCranks(week(), (k) => ({
    resistanceOhm: { value: k < 7 ? 0.0035 : 0.0049, u: 0.0001 },
    temperatureC: k < 7 ? 20 : -8,
  }));
  expect(answerOf(check, analysis, session({ battery: RATED })).status).toBe('clear');
});

test('cranks with a clipped plateau are left out', () => {
  const usual = week();
  const clipped = withCranks(usual, (k) => ({
    ampsPeak: 100,
    resistanceOhm: { value: 0.02, u: 0.0001 },
    wave: wave(usual.cranks[k].at, () => -100),
  }));
  const columns = { current: { name: 'a', unit: 'A', positive: 'charging', rangeA: 100 } } as const;
  // The clipping is seen in the tiles, as the current range check tells.
  clipped.tiles.iMin.fill(-100, 2, 3);
  expect(answerOf(check, clipped, session({ battery: RATED, columns }))).toMatchObject({
    status: 'undecided',
    reason: 'not-measurable',
  });
});

test('no crank, no starter', () => {
  expect(answerOf(check, nothing(), session()).reason).toBe('no-crank');
  expect(answerOf(check, standing(20), session({ vehicle: { powertrain: 'electric' } })).reason).toBe('no-starter');
});
