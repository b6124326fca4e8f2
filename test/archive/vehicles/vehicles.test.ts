import { describe, expect, it } from 'vitest';
import { vehiclesOf } from '../../../src/archive/vehicles/vehicles.ts';
import { changed, stored } from '../reports.ts';

const of = (id: string, start: string, registration: string | null, vin: string | null = null) =>
  changed(stored(id, `2026-0${start}-01T00:00:00.000Z`), (report) => {
    report.session.vehicle.registration = registration;
    report.session.vehicle.vin = vin;
  });
const grouped = (...reports: ReturnType<typeof of>[]) =>
  vehiclesOf(reports)
    .map(({ sessions }) => sessions.map(({ session }) => session.id))
    .sort();

describe('sessions of one vehicle', () => {
  it('are told by registration, however it is written, the oldest first', () => {
    expect(grouped(of('late', '3', '171-D 123'), of('early', '1', '171d123'), of('other', '2', '171-D 124'))).toEqual([
      ['early', 'late'],
      ['other'],
    ]);
  });

  it('are told by VIN where the registration changed, and a registration stands for the VIN it goes with', () => {
    const reports = [of('a', '1', 'OLD', 'VIN1'), of('b', '2', 'NEW', 'VIN1'), of('c', '3', 'NEW')];
    expect(grouped(...reports)).toEqual([['a', 'b', 'c']]);
  });

  it('are kept apart where a registration has moved to another vehicle', () => {
    expect(grouped(of('a', '1', 'REG', 'VIN1'), of('b', '2', 'REG', 'VIN2'), of('c', '3', 'REG'))).toEqual([
      ['a'],
      ['b'],
      ['c'],
    ]);
  });

  it('are none without VIN and registration: many vehicles share a description', () => {
    expect(grouped(of('a', '1', null), of('b', '2', ' - '))).toEqual([]);
  });

  it('lie in a folder whose name is legal everywhere and stays when sessions are added', () => {
    const [alone] = vehiclesOf([of('a', '1', 'CON')]);
    const [more] = vehiclesOf([of('a', '1', 'CON'), of('b', '2', 'con')]);
    expect(alone.folder).toMatch(/^con-[0-9a-f]{8}$/);
    expect(more.folder).toBe(alone.folder);
    expect(vehiclesOf([of('a', '1', '沪A·12345')])[0].folder).toMatch(/^[a-z0-9-]+$/);
  });
});
