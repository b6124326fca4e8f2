/** A converter that stops for minutes of a drive. Common practice, no source. */
import { expect, test } from 'vitest';
import type { Session } from '../../src/manifest/session.ts';
import { converterStops } from '../../src/measures/converter-stops.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

/** A week whose drives lose `v` and `i` from their sixth minute on, for so many seconds. */
const stopped = (
  seconds: number,
  { v = 12.5, i = -12, of = (_: number): boolean => true, powertrain = 'electric' } = {},
) => {
  const told = week();
  const at = (t: number) => told.drives.findIndex((d) => t >= d.start + 300 && t < d.start + 300 + seconds);
  const isOff = (t: number) => at(t) >= 0 && of(at(t));
  const analysis = withTiles(told, (t, kind) =>
    kind === 'driving' ? (isOff(t) ? { v, i } : { v: 14.2, i: 4 }) : { v: 12.6, i: -0.02 },
  );
  return converterStops(analysis, session({ vehicle: { powertrain: powertrain as Session['vehicle']['powertrain'] } }));
};

test('in most drives the battery carries the vehicle for minutes', () => {
  const found = stopped(300);
  expect(found).toMatchObject({ stopDrives: found?.stopSeen });
  expect(found?.stopA).toBeCloseTo(-12, 0);
});

test('is none of an engine’s regulator, for moments, in a few drives, at a voltage that charges, or with nothing drawn', () => {
  expect(stopped(300, { powertrain: 'combustion' })).toBeNull();
  expect(stopped(40)).toBeNull();
  expect(stopped(300, { of: (k) => k < 3 })).toBeNull();
  expect(stopped(300, { v: 13.4 })).toBeNull();
  expect(stopped(300, { i: -0.5 })).toBeNull();
});
