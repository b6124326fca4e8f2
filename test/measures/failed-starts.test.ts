/** Which failed starts are the vehicle's: common practice, no source. */
import { expect, test } from 'vitest';
import type { Analysis, VehicleEvent } from '../../src/analysis/model.ts';
import { failedStarts } from '../../src/measures/failed-starts.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const quiet = week();
const failed = (start: number): VehicleEvent => ({
  kind: 'failed-start',
  start,
  seconds: 8,
  meanA: 180,
  voltsMin: 9.9,
});
const after = (events: readonly VehicleEvent[], changes: Partial<Analysis> = {}) =>
  failedStarts({ ...quiet, events, ...changes }, session());
const firstDrive = quiet.drives[0]?.start ?? 0;

test('one that the next attempt cures is told of nobody', () => {
  expect(after([])).toBeNull();
  expect(after([failed(firstDrive - 60)])).toBeNull();
});

test('two are worth a look, three a fault, though the engine ran later', () => {
  expect(after([failed(firstDrive - 90), failed(firstDrive - 60)])).toMatchObject({ count: 2, isFault: false });
  expect(after([120, 90, 60].map((s) => failed(firstDrive - s)))).toMatchObject({
    count: 3,
    isFault: true,
    isLost: false,
  });
});

test('a last one without a drive after it is a fault, unless the log ends with it', () => {
  const last = (quiet.drives.at(-1)?.end ?? 0) + 3600;
  expect(after([failed(last)])).toMatchObject({ count: 1, isFault: true, isLost: true });
  expect(after([failed(last)], { end: last + 20 })).toBeNull();
});

test('one that is followed by as much as a drive without charging takes may have run, and that is told beside it', () => {
  const start = (quiet.drives.at(-1)?.end ?? 0) + 3600;
  const [asleep] = quiet.periods;
  const draining = (chargeOutAh: number) => [
    ...quiet.periods.filter(({ end }) => end <= start),
    { ...asleep, kind: 'unknown' as const, start, end: start + 1500, chargeInAh: 0, chargeOutAh },
  ];
  // 20 A for 25 min, and a lamp of 0.4 A.
  expect(after([failed(start)], { periods: draining(8.3) })).toMatchObject({ isFault: true, mayHaveRun: true });
  expect(after([failed(start)], { periods: draining(0.17) })).toMatchObject({ isFault: true, mayHaveRun: false });
});
