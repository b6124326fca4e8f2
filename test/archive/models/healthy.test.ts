/** Whom a session is held against. */
import { expect, it } from 'vitest';
import { asksModel, healthyOf, type ModelArchive } from '../../../src/archive/models/healthy.ts';
import type { StoredReport } from '../../../src/archive/stored-report.ts';
import { summaryOf } from '../../../src/archive/summary/summary.ts';
import { session as sample } from '../../report/sample.ts';
import { changed, stored } from '../reports.ts';

/** A healthy van of the model, known by its registration. */
const van = (id: string, day: number, registration: string, purpose: 'baseline' | 'complaint' = 'baseline') =>
  changed(stored(id, `2026-03-0${day}T00:00:00.000Z`), (own) => {
    Object.assign(own.session, { purpose });
    Object.assign(own.session.vehicle, { model: 'Panel van', registration });
  });

const archive = (...reports: StoredReport[]): ModelArchive => ({
  read: async (id) => {
    const report = reports.find((one) => one.session.id === id);
    return report ? { folder: id, report } : null;
  },
  summaries: async () => reports.map(summaryOf),
});

const session = { ...sample, vehicle: { ...sample.vehicle, model: 'panel  van', registration: 'OWN-1' } };

it('is the last healthy baseline of each other vehicle of the model', async () => {
  const there = archive(
    van('a', 1, 'A-1'),
    van('a2', 2, 'a 1'),
    van('b', 3, 'B-1'),
    van('own', 4, 'own1'),
    van('c', 5, 'C-1', 'complaint'),
  );
  const healthy = await healthyOf(session, there);
  expect(healthy).toMatchObject({ from: 'model' });
  expect(healthy?.vehicles).toHaveLength(2);
});

it('is those that the session names, whatever else is there', async () => {
  const there = archive(van('a', 1, 'A-1'), van('b', 2, 'B-1'), van('c', 3, 'C-1'));
  const limitsFrom = { id: 'a', more: ['b', 'a'], at: { line: 1, column: 1 } };
  const healthy = await healthyOf({ ...session, limitsFrom } as never, there);
  expect(healthy).toMatchObject({ from: 'limits' });
  expect(healthy?.vehicles).toHaveLength(2);
});

it('is nobody for a baseline, without a model, and of another kind of vehicle', async () => {
  const there = archive(van('a', 1, 'A-1'));
  expect(await healthyOf({ ...session, purpose: 'baseline' }, there)).toBeNull();
  expect(await healthyOf(sample, there)).toBeNull();
  expect(await healthyOf({ ...session, vehicle: { ...session.vehicle, powertrain: 'electric' } }, there)).toBeNull();
  expect([asksModel(session), asksModel({ ...session, purpose: 'baseline' })]).toEqual([true, false]);
});
