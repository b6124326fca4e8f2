/** A solenoid that does not hold, and what only looks like it. How many swings are too many is common practice, no source. */
import { expect, it } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { chatter } from '../../src/measures/chatter.ts';
import { blockOf, type Row, START, tilesOf } from '../analysis/blocks.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const STEP_S = 0.05;

/** A minute with the key on, the current as `amps` says at each row, A. */
function keyOn(amps: (s: number) => number, ohm = 0.005): Analysis {
  const rows = Array.from({ length: 60 / STEP_S }, (_, k): Row => {
    const s = k * STEP_S;
    return { t: START + s, v: 12.6 - ohm * amps(s), i: -amps(s) };
  });
  const period = { kind: 'key-on' as const, start: START, end: START + 60, chargeInAh: 0, chargeOutAh: 0 };
  const usual = week();
  return { ...usual, tiles: tilesOf(blockOf(rows)), periods: [{ ...usual.periods[0], ...period }] };
}

/** To and fro at each row between 8 A and 40 A, from each of `begins` on for `lastsS`. */
const swinging =
  (begins: readonly number[], lastsS = 2) =>
  (s: number) =>
    begins.some((at) => s >= at && s < at + lastsS) && Math.round(s / STEP_S) % 2 === 0 ? 40 : 8;

it('tells bursts in which the current goes to and fro many times a second', () => {
  expect(chatter(keyOn(swinging([10.01, 16, 22])), session())).toMatchObject({ times: 1, bursts: 3, mostA: 40 });
});

it('says nothing of one stretch, as glow plugs fed in pulses make it, nor of switches, nor of a battery that gives way', () => {
  expect(chatter(keyOn(swinging([10])), session())).toBeNull();
  expect(chatter(keyOn(swinging([10, 30], 9)), session())).toBeNull();
  // Windows and locks: on and off once in a second or two.
  expect(
    chatter(
      keyOn((s) => (Math.floor(s) % 2 ? 40 : 8)),
      session(),
    ),
  ).toBeNull();
  expect(chatter(keyOn(swinging([10, 16, 22]), 0.05), session())).toBeNull();
  expect(
    chatter(
      keyOn(() => 8),
      session(),
    ),
  ).toBeNull();
});
