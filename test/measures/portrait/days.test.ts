import { describe, expect, it } from 'vitest';
import { days } from '../../../src/measures/portrait/days.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
const LOG = withTiles(
  week({ days: 3, chargerAh: 6 }),
  (_, kind) => ({ v: 12.6, i: kind === 'driving' ? 4 : kind === 'on-charger' ? 1 : -0.02 }),
  60,
);
const daysIn = (timezone: string) => days(LOG, { ...session(), timezone });

describe('charge by day', () => {
  it('adds up to what flowed, wherever midnight is', () => {
    for (const timezone of ['UTC', 'America/New_York', 'Asia/Kolkata']) {
      const found = daysIn(timezone);
      const driven = LOG.drives.reduce((all, { start, end }) => all + end - start, 0);
      expect(sum(found.map(({ drivingS }) => drivingS))).toBeCloseTo(driven, 6);
      expect(sum(found.map(({ chargeInAh }) => chargeInAh))).toBeCloseTo((4 * driven) / 3600, 6);
      const chargerS = LOG.periods.filter(({ kind }) => kind === 'on-charger').map(({ start, end }) => end - start);
      expect(sum(found.map(({ chargerAh }) => chargerAh))).toBeCloseTo(sum(chargerS) / 3600, 6);
    }
  });

  it('is of the session’s own calendar', () => {
    // The log begins at 18:00 UTC, which is the next day in Kiritimati, 14 h ahead.
    expect(daysIn('Pacific/Kiritimati')[0].day).toBe(daysIn('UTC')[0].day + 1);
  });
});
