import { describe, expect, it } from 'vitest';
import type { Install } from '../../src/manifest/session.ts';
import { compareFitting } from '../../src/measures/fitting-record.ts';
import { session, standing, week } from '../checks/analysis-fixture.ts';

/** Stands from the first row on at 18 mA and 12.5 V; driven after twelve hours. */
const LOG = week();
const START_MS = LOG.start * 1000;
const MINUTE_MS = 60_000;

function answer(what: string, install: Install, log = LOG) {
  return compareFitting(log, session({ session: { install } })).find((one) => one.what === what);
}

describe('clock', () => {
  it.each([
    [-20, 'agrees', null],
    [0, 'agrees', null],
    [40, 'agrees', null],
    [60, 'disagrees', 'near-whole-hours'],
    [-60, 'disagrees', 'near-whole-hours'],
    [-110, 'disagrees', 'near-whole-hours'],
    [330, 'disagrees', 'log-late'],
    [-3 * 24 * 60, 'disagrees', 'log-early'],
  ])('a log that begins %i min after fitting %s', (minutes, agrees, reason) => {
    const found = answer('clock-start', { fittedAtMs: START_MS - minutes * MINUTE_MS });
    expect(found).toMatchObject({ agrees, reason });
  });

  it('is asked at the end too', () => {
    expect(answer('clock-end', { removedAtMs: LOG.end * 1000 + 10 * MINUTE_MS })?.agrees).toBe('agrees');
    expect(answer('clock-end', { removedAtMs: LOG.end * 1000 + 300 * MINUTE_MS })?.agrees).toBe('disagrees');
  });
});

describe('memory supply', () => {
  const told = (voltageDuringV: number) => ({ memorySaver: { used: true, voltageDuringV } });

  it('agrees where its voltage appears before the first drive', () => {
    expect(answer('memory-supply', told(12.6))).toMatchObject({ agrees: 'agrees', stated: 12.6 });
  });

  it('is unknown where the log only shows less', () => {
    expect(answer('memory-supply', told(13.4))).toMatchObject({ agrees: 'unknown', reason: 'not-in-log' });
  });

  it('disagrees where the log only shows more', () => {
    expect(answer('memory-supply', told(11))).toMatchObject({ agrees: 'disagrees', reason: 'other-voltage' });
  });

  it('does not take an engine that charges for it', () => {
    const soon = { ...LOG, start: (LOG.drives[0]?.start ?? 0) - 600 };
    expect(answer('memory-supply', told(14.2), soon)?.agrees).toBe('unknown');
  });

  it('is not asked where none was used', () => {
    expect(answer('memory-supply', { memorySaver: { used: false } })).toBeUndefined();
  });
});

describe('draw at the start', () => {
  it.each([
    [0.018, 'agrees', null],
    [0.021, 'agrees', null],
    [0.03, 'disagrees', 'other-draw'],
    [1.8, 'disagrees', 'other-draw'],
  ])('%f A beside 18 mA %s', (drawAtStartA, agrees, reason) => {
    expect(answer('draw-at-start', { drawAtStartA })).toMatchObject({ agrees, reason });
  });

  it('tells a wrong sign from a wrong figure', () => {
    const turned = standing(10, { sleepA: -0.5 });
    expect(answer('draw-at-start', { drawAtStartA: 0.5 }, turned)).toMatchObject({ reason: 'other-sign' });
  });

  it('is unknown without current', () => {
    const mute = { ...LOG, tiles: { ...LOG.tiles, i: LOG.tiles.i.map(() => Number.NaN) } };
    expect(answer('draw-at-start', { drawAtStartA: 0.018 }, mute)?.agrees).toBe('unknown');
  });
});

it('says what nobody wrote down', () => {
  const answers = compareFitting(LOG, session());
  expect(answers.map(({ reason }) => reason)).toEqual(['not-told', 'not-told', 'not-told', 'not-told']);
});
