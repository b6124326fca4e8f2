/** When circuits come on about key-on, held against stands that are laid second by second. */
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../../src/analysis/model.ts';
import type { Session } from '../../../src/manifest/session.ts';
import { circuits } from '../../../src/measures/portrait/circuits.ts';

const STAND_S = 1000;
const STANDS = 4;
const session = {
  vehicle: { systemV: 12 },
  log: { channels: [{ label: 'Door module', measures: 'supply', activeAboveV: 6, activeBelowV: undefined }] },
} as unknown as Session;

/** Four stands, each ended by a key-on; the circuit is on while `isOn` says so of the second from the nearest key-on. */
function parked(isOn: (sinceKeyOn: number, stand: number) => boolean): Analysis {
  const n = STANDS * STAND_S + 200;
  const column = (of: (s: number) => number) => Float64Array.from({ length: n }, (_, s) => of(s));
  const near = (s: number) => Math.min(STANDS, Math.max(1, Math.round(s / STAND_S)));
  const volts = column((s) => (isOn(s - near(s) * STAND_S, near(s)) ? 12 : 0));
  return {
    start: 0,
    end: n,
    tiles: { n, t0: column((s) => s), t1: column((s) => s + 1), chMin: [volts], chMax: [volts] },
    periods: [{ kind: 'asleep', start: 0, end: n }],
    stands: Array.from({ length: STANDS }, (_, k) => ({
      start: k * STAND_S + 200,
      end: (k + 1) * STAND_S,
      keyOffInLog: false,
      keyOnInLog: true,
    })),
    drives: [],
    has: { current: true, temperature: false, channels: [true] },
  } as unknown as Analysis;
}
const of = (analysis: Analysis) => circuits(analysis, session)[0];

describe('a circuit about key-on', () => {
  it('comes on before it, as from unlocking, and stays', () => {
    expect(of(parked((s) => s >= -25 && s < 100))).toMatchObject({
      onSeen: 4,
      onAfterS: { p05: -25, p50: -25, p95: -25 },
    });
  });
  it('comes on after it', () => {
    expect(of(parked((s) => s >= 3 && s < 100))?.onAfterS?.p50).toBe(3);
  });
  it('has not woken for the key where its pulse was over by then', () => {
    expect(of(parked((s) => s >= -60 && s < -20))).toMatchObject({ onSeen: 0, onAfterS: null });
  });
  it('has no usual time where it came on at few of them', () => {
    expect(of(parked((s, stand) => stand === 1 && s >= 2 && s < 100))).toMatchObject({ onSeen: 1, onAfterS: null });
  });
});
