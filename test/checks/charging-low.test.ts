import { expect, test } from 'vitest';
import { check } from '../../src/checks/charging-low.ts';
import { nothing, session, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('14.2 V and charging is clear', () => {
  const answer = ask({});
  expect(answer.status).toBe('clear');
  expect(answer.variant).toBeUndefined();
  // Straight line between 14.0 V at −20 °C and 13.7 V at 20 °C.
  expect(answer.limit?.value).toBeCloseTo(13.7375, 9);
});

test('12.3 V with the battery feeding the vehicle is a fault', () => {
  expect(ask({ driveV: 12.3, driveA: -12 })).toMatchObject({ status: 'fault', facts: { lowDrives: 14 } });
});

test('lowered on purpose: the voltage is low but the battery is not drained', () => {
  expect(ask({ driveV: 12.8, driveA: 0.5 })).toMatchObject({ status: 'clear', variant: 'lowered' });
});

test('held low although the battery is not full is worth watching, unless any drive reached the window', () => {
  const low = { driveV: 12.9, driveA: 0.5, restV: 12.0 };
  expect(ask(low)).toMatchObject({ status: 'watch', variant: 'not-full' });
  expect(ask({ ...low, driveV: (k) => (k === 5 ? 14.3 : 12.9) })).toMatchObject({
    status: 'clear',
    variant: 'lowered',
  });
});

test('held low in every drive while much flows in all along: it cannot be full', () => {
  const seen = (story: Parameters<typeof week>[0], driveV = 12.8) =>
    check.answer(
      withTiles(week({ driveV: 12.8, driveA: 6, ...story }), (_, kind) => ({ v: kind === 'driving' ? driveV : 12.5 })),
      session(),
    );
  expect(seen({})).toMatchObject({ status: 'watch', variant: 'not-full', facts: { takenA: 6 } });
  expect(seen({ driveA: 1 })).toMatchObject({ status: 'clear', variant: 'lowered' });
  // Reached for moments, in overrun say, of which the 95 % know nothing.
  expect(seen({}, 14.3)).toMatchObject({ status: 'clear', variant: 'lowered' });
  expect(seen({ days: 1 })).toMatchObject({ status: 'clear' });
});

test('lower than any vehicle lowers it is worth watching, also while hardly anything is drained', () => {
  const low = { driveV: 11.8, driveA: 0.5 };
  expect(ask(low)).toMatchObject({ status: 'watch', variant: 'too-low' });
  expect(ask({ ...low, driveV: (k) => (k === 5 ? 12.7 : 11.8) }).status).toBe('clear');
});

test('never above what a battery gives by itself, in hours of drives, is worth watching too', () => {
  const ask = (driveV: number, risesTo: number) =>
    check.answer(
      withTiles(week({ driveV, driveA: 0.2 }), (_, kind) => ({ v: kind === 'driving' ? risesTo : 12.5 })),
      session(),
    );
  expect(ask(12.4, 12.4)).toMatchObject({ status: 'watch', variant: 'too-low', facts: { long: true, wasLow: false } });
  // Raised for moments, as in overrun.
  expect(ask(12.4, 14.3)).toMatchObject({ status: 'clear', variant: 'lowered' });
  expect(ask(12.9, 12.9)).toMatchObject({ status: 'clear', variant: 'lowered' });
});

test('a full battery that is let sink a little is not drained', () => {
  expect(ask({ driveV: 12.8, driveA: -0.8 })).toMatchObject({ status: 'clear', variant: 'lowered' });
});

test('half of the driving without charge is a fault, also where the last drives were charged', () => {
  const answer = ask({ driveV: (k) => (k < 8 ? 12.2 : 14.2), driveA: (k) => (k < 8 ? -12 : 4) });
  expect(answer).toMatchObject({ status: 'fault', facts: { lowDrives: 8 } });
});

test('a few drives without charge are worth watching', () => {
  expect(ask({ driveV: (k) => (k < 3 ? 12.2 : 14.2), driveA: (k) => (k < 3 ? -12 : 4) })).toMatchObject({
    status: 'watch',
    facts: { lowDrives: 3 },
  });
});

test('charging that reaches the window is clear even where the battery gives more than it gets', () => {
  expect(ask({ driveV: 14.2, driveA: -2 }).status).toBe('clear');
});

test('low voltage cannot be told from lowered voltage without current', () => {
  expect(ask({ driveV: 12.3, current: false })).toMatchObject({ status: 'undecided', reason: 'low-without-current' });
  expect(ask({ driveV: 14.2, current: false }).status).toBe('clear');
});

test('a limit within value ± U, and the battery drained: no verdict', () => {
  const limits = { chargingVoltageMin: { value: 13.7, source: 'test' } };
  expect(ask({ driveV: 13.6, driveA: -3 }, { limits })).toMatchObject({
    status: 'undecided',
    reason: 'limit-within-uncertainty',
  });
});

test('24 V is judged by twice the window', () => {
  expect(ask({ scale: 2, driveV: 12.3, driveA: -12 }, { vehicle: { systemV: 24 } }).status).toBe('fault');
  expect(ask({ scale: 2 }, { vehicle: { systemV: 24 } }).status).toBe('clear');
});

test('no drive, or only short ones', () => {
  expect(check.answer(nothing(), session())).toMatchObject({ status: 'undecided', reason: 'no-drive' });
  const analysis = week();
  const short = {
    ...analysis,
    drives: analysis.drives.map((drive) => ({ ...drive, end: drive.start + 100, voltsHigh: null })),
  };
  expect(check.answer(short, session())).toMatchObject({ status: 'undecided', reason: 'drives-too-short' });
});

test('charging that comes and goes is a fault, though its window is reached for moments; harvesting alone is none', () => {
  const drivesWith = (voltsMedian: number, meanA: number) => {
    const analysis = week({});
    const drives = analysis.drives.map((drive) => ({ ...drive, voltsMedian, meanA }));
    return check.answer({ ...analysis, drives }, session());
  };
  expect(drivesWith(12.1, -8)).toMatchObject({ status: 'fault', variant: 'at-times', measured: { value: 12.1 } });
  expect(drivesWith(12.4, -0.5)).toMatchObject({ status: 'clear' });
  expect(drivesWith(13.4, -4)).toMatchObject({ status: 'clear' });
});

test('where most drives come and go and together put back what they take, that is how the vehicle charges', () => {
  const with14 = (meanOf: (k: number) => number) => {
    const analysis = week({});
    const drives = analysis.drives.map((drive, k) => ({ ...drive, voltsMedian: 12.5, meanA: meanOf(k) }));
    return check.answer({ ...analysis, drives }, session());
  };
  expect(with14((k) => (k === 5 ? -4 : 2))).toMatchObject({ status: 'clear' });
  expect(with14((k) => (k === 5 ? -4 : 0.1))).toMatchObject({ status: 'watch', variant: 'at-times' });
});

test('a battery that carries the loads in the first minutes of most drives is watched, one that does so throughout or once is not', () => {
  const plain = week({});
  const began = (t: number) => plain.drives.findLast(({ start }) => start <= t);
  const slips = (isOff: (intoS: number, drive: number) => boolean) =>
    check.answer(
      withTiles(plain, (t, kind) => {
        const drive = began(t);
        if (kind !== 'driving' || !drive) return { v: 12.6, i: -0.02 };
        return isOff(t - drive.start, plain.drives.indexOf(drive)) ? { v: 12.1, i: -30 } : { v: 14.2, i: 6 };
      }),
      session(),
    );
  const half = (intoS: number) => intoS % 40 < 20;
  expect(slips((intoS) => intoS < 400 && half(intoS))).toMatchObject({
    status: 'watch',
    variant: 'at-first',
    facts: { firstDrives: plain.drives.length },
  });
  expect(slips((intoS) => half(intoS)).variant).not.toBe('at-first');
  expect(slips((intoS, drive) => drive < 2 && intoS < 400 && half(intoS))).toMatchObject({ status: 'clear' });
});

test('a battery that is let sink a little in some drives, and charged in others, is no fault of charging', () => {
  const some = (amps: number) => ({
    driveV: (k: number) => (k < 3 ? 12.58 : 14.2),
    driveA: (k: number) => (k < 3 ? amps : 4),
  });
  expect(ask(some(-1.3))).toMatchObject({ status: 'clear', variant: 'lowered' });
  expect(ask(some(-4))).toMatchObject({ status: 'watch', facts: { lowDrives: 3 } });
  expect(ask({ driveV: 12.58, driveA: -1.3 })).toMatchObject({ status: 'fault' });
});

test('a drive that may be none is no fault of charging, and what went out meanwhile is told', () => {
  const told = week({ driveV: 12.2, driveA: -12 });
  const sure = (certainty: number) => ({
    ...told,
    periods: told.periods.map((period) =>
      period.kind === 'driving' ? { ...period, certainty, chargeOutAh: 6 } : period,
    ),
  });
  expect(check.answer(sure(0.9), session()).status).toBe('fault');
  expect(check.answer(sure(0.55), session())).toMatchObject({
    status: 'watch',
    variant: 'unexplained',
    facts: { unexplainedTimes: 14, sureDrives: false },
  });
});
