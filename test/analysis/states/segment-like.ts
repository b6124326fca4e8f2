/** Segments as they are told: what is not said is that of a vehicle asleep. */
import type { Segment } from '../../../src/analysis/states/segments.ts';

const ASLEEP: Segment = {
  first: 0,
  last: 0,
  seconds: 3600,
  holeS: 0,
  isFed: false,
  lost: null,
  crank: -1,
  volts: 12.6,
  drawA: 0.02,
  roughA: 0.001,
  roughV: 0.001,
  inShare: 0,
  rows: 3600,
  stepS: 1,
  started: 0,
  againS: null,
  isSinceStart: false,
  isOnSinceStart: false,
  isSwitched: false,
  isByTurns: false,
  feeding: { amps: Number.NaN, volts: Number.NaN },
  feedsConsumers: false,
  drawnBeforeA: Number.NaN,
};

export const segment = (told: Partial<Segment> = {}): Segment => ({ ...ASLEEP, ...told });
export const cranking = (crank = 0): Segment => segment({ crank, seconds: 1, drawA: 180, volts: 10.5, rows: 10 });
export const running = (told: Partial<Segment> = {}): Segment =>
  segment({ isFed: true, volts: 14.3, drawA: -8, roughA: 0.8, roughV: 0.03, inShare: 1, ...told });
