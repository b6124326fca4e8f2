import { expect, it } from 'vitest';
import type { RawCrank } from '../../../src/analysis/cranks/raw-crank.ts';
import type { Crank } from '../../../src/analysis/model.ts';
import { findEvents } from '../../../src/analysis/states/events.ts';
import type { Label } from '../../../src/analysis/states/label.ts';
import { log, START, stretch, tilesOf } from '../blocks.ts';

const tiles = tilesOf(log([stretch(600, 1, { v: 12.5, i: -1 })]));
const labelled = (label: Label) => new Array<Label>(tiles.n).fill(label);
const crank = (at: number, seconds: number, started: boolean) =>
  ({ at: START + at, seconds, started, voltsMin: 9.5 }) as Crank;
const raw = [{ ampsMean: 180 }] as RawCrank[];
const load = (at: number, seconds: number) => ({ at: START + at, seconds, meanA: 120, voltsMin: 11.5 });
const kinds = (label: Label, cranks: readonly Crank[], loads: readonly ReturnType<typeof load>[]) =>
  findEvents(tiles, labelled(label), raw, cranks, loads, 12).map(({ kind }) => kind);

it('a start that failed or took long is told, a sound one is not', () => {
  expect(kinds('parked', [crank(100, 1, true)], [])).toEqual([]);
  expect(kinds('parked', [crank(100, 6, true)], [])).toEqual(['long-start']);
  expect(kinds('parked', [crank(100, 1, false)], [])).toEqual(['failed-start']);
});

it('a heavy load is told with the engine off only, and where it lasted', () => {
  expect(kinds('parked', [], [load(200, 30)])).toEqual(['heavy-load']);
  expect(kinds('driving', [], [load(200, 30)])).toEqual([]);
  expect(kinds('parked', [], [load(200, 0.5)])).toEqual([]);
});

it('glow plugs lead into a crank and are no load of their own', () => {
  expect(kinds('parked', [crank(235, 1, true)], [load(200, 30)])).toEqual([]);
  expect(kinds('parked', [crank(300, 1, true)], [load(200, 30)])).toEqual(['heavy-load']);
});

it('plugs that glow in slow rows make no long start of a sound one, and no load where the rows miss the crank', () => {
  const started = { ...crank(100, 10, true), voltsBefore: 12.5, voltsMin: 11.9 } as Crank;
  const told = (ampsMean: number, voltsMin: number) =>
    findEvents(tiles, labelled('parked'), [{ ampsMean }] as RawCrank[], [{ ...started, voltsMin }], [], 12).map(
      ({ kind }) => kind,
    );
  expect(told(90, 11.9)).toEqual([]);
  expect(told(90, 10.8)).toEqual(['long-start']);
  expect(told(200, 11.9)).toEqual(['long-start']);
  const drivenOff = labelled('parked').fill('driving', 215);
  expect(findEvents(tiles, drivenOff, [], [], [load(200, 8)], 12)).toEqual([]);
});

it('what pulls the voltage down far less than the starter of this vehicle does is a load, not a start that failed', () => {
  const dipping = (at: number, dipV: number, started: boolean) =>
    ({ ...crank(at, 9, started), seconds: started ? 1 : 9, voltsBefore: 12.5, voltsMin: 12.5 - dipV }) as Crank;
  const told = (last: Crank, sound = 2) => {
    const cranks = [...Array.from({ length: sound }, (_, k) => dipping(100 * k, 1.5, true)), last];
    return findEvents(tiles, labelled('parked'), new Array(cranks.length).fill(raw[0]), cranks, [], 12).map(
      ({ kind }) => kind,
    );
  };
  expect(told(dipping(400, 0.4, false))).toEqual(['heavy-load']);
  expect(told(dipping(400, 1.4, false))).toEqual(['failed-start']);
  expect(told(dipping(400, 4, false))).toEqual(['failed-start']);
  // One start shows no rule.
  expect(told(dipping(400, 0.4, false), 1)).toEqual(['failed-start']);
});

it('a lift that is used again and again is none either, though it pulls as hard as a small starter', () => {
  const cranks = [0, 100, 400].map(
    (at, k) => ({ ...crank(at, k < 2 ? 1 : 9, k < 2), voltsBefore: 12.5, voltsMin: k < 2 ? 11 : 11.4 }) as Crank,
  );
  const told = (uses: number) => {
    const loads = Array.from({ length: uses }, (_, k) => load(450 + 20 * k, 10));
    const currents = [240, 250, 125].map((ampsMean) => ({ ampsMean })) as RawCrank[];
    return findEvents(tiles, labelled('parked'), currents, cranks, loads, 12).filter(
      ({ start }) => start === START + 400,
    );
  };
  expect(told(4)).toMatchObject([{ kind: 'heavy-load' }]);
  expect(told(1)).toMatchObject([{ kind: 'failed-start' }]);
});
