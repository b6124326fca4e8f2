/** Readings that no battery of the manifest's kind gives: refused, each with the column that is meant. */
import { describe, expect, it } from 'vitest';
import type { Session } from '../../src/manifest/session.ts';
import { refuseWrongUnits } from '../../src/measures/wrong-units.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { type Moment, withTiles } from '../checks/tile-story.ts';

const van = (told: (kind: string) => Moment, changes: Parameters<typeof session>[0] = {}) => {
  const analysis = withTiles(week({ days: 2 }), (_, kind) => told(kind), 60);
  return () => refuseWrongUnits(analysis, session(changes));
};
const usual = (kind: string): Moment =>
  kind === 'driving' ? { v: 14.2, i: 5, temp: 20 } : { v: 12.6, i: kind === 'settling' ? -3 : -0.02, temp: 15 };
const timesV = (factor: number) => (kind: string) => ({ ...usual(kind), v: factor * (usual(kind).v ?? 0) });
const timesA = (factor: number) => (kind: string) => ({ ...usual(kind), i: factor * (usual(kind).i ?? 0) });
const columns = (told: Partial<Session['log']['columns']>) => ({ columns: told });

it('a sound log is not refused', () => {
  expect(van(usual)).not.toThrow();
});

describe('refused', () => {
  it('a voltage in V that is read as mV', () => {
    expect(van(timesV(0.001), columns({ voltage: { name: 'v', unit: 'mV' } }))).toThrow(/voltage\.unit.*Read as V/);
  });

  it('a current in mA that is read as A', () => {
    expect(van(timesA(1000))).toThrow(/current\.unit.*would have drawn/);
  });

  it('a current in A that is read as mA', () => {
    const mA = columns({ current: { name: 'i', unit: 'mA', positive: 'charging' } });
    expect(van(timesA(0.001), mA)).toThrow(/current\.unit.*an engine ran/);
    expect(van(usual, mA)).not.toThrow();
  });

  it('degrees Fahrenheit that are read as Celsius', () => {
    expect(van((kind) => ({ ...usual(kind), temp: 70 }))).toThrow(/temperature\.unit.*Read as °F/);
  });

  it('a 24 V log declared as 12 V, and a 12 V log declared as 24 V that charges as one', () => {
    expect(van(timesV(2))).toThrow(/that of a 24 V system/);
    expect(van(usual, { vehicle: { systemV: 24 } })).toThrow(/that of a 12 V system/);
  });
});

it('a dead pair of 24 V that stays at 12 V is told by a check, and not refused', () => {
  const dead = (kind: string): Moment => ({ ...usual(kind), v: 12.4, i: kind === 'driving' ? -5 : -0.02 });
  expect(van(dead, { vehicle: { systemV: 24 } })).not.toThrow();
});
