/** Stretches of a plain vehicle's life, for logs written as a list: `log([...night(), ...start(0.1), ...])`. */
import { type Course, noisy, type Stretch, stretch } from './blocks.ts';

/** A battery of 12.5 V and 6 mΩ behind everything. */
export const OPEN_V = 12.5;
export const OHM = 0.006;

/** A draw, A, and the voltage that it leaves. */
export function draw(amps: Course, seconds: number, stepS: number): Stretch {
  const of = (s: number, n: number) => (typeof amps === 'function' ? amps(s, n) : amps);
  return stretch(seconds, stepS, { v: (s, n) => OPEN_V - OHM * of(s, n), i: (s, n) => -of(s, n) });
}

/** The starter: an inrush of 600 A that is gone after 0.3 s, then 180 A with eight compressions a second. */
export function starterA(s: number): number {
  return 180 * (1 + 0.15 * Math.sin(2 * Math.PI * 8 * s)) + 420 * Math.exp(-s / 0.06);
}

export const asleep = (seconds: number, stepS: number, amps = 0.02) => draw(noisy(amps, 0.002), seconds, stepS);
export const keyOn = (seconds: number, stepS: number) => draw(noisy(8, 0.05), seconds, stepS);
export const crank = (seconds: number, stepS: number) => draw(starterA, seconds, stepS);

/** Consumers that never rest, a regulator at 14.3 V, a charge that tapers. */
export function running(seconds: number, stepS: number): Stretch {
  const chargeA = noisy((s) => 2 + 25 * Math.exp(-s / 300), 0.6);
  return stretch(seconds, stepS, { v: noisy(14.3, 0.02, 2), i: chargeA });
}

/** A charger: a steady current and a voltage that it holds. */
export function charger(seconds: number, stepS: number, amps = 5): Stretch {
  return stretch(seconds, stepS, { v: noisy(14.2, 0.002, 2), i: noisy(amps, 0.003) });
}

/** Modules shutting down one after another: 4 A, 1.5 A, 0.4 A. */
export function settling(stepS: number, seconds = 600): Stretch[] {
  return [
    draw(noisy(4, 0.02), 0.2 * seconds, stepS),
    draw(noisy(1.5, 0.01), 0.4 * seconds, stepS),
    draw(noisy(0.4, 0.005), 0.4 * seconds, stepS),
  ];
}

/** Key on, one crank, and the engine running. */
export function drive(seconds: number, stepS: number, crankStepS = stepS): Stretch[] {
  return [keyOn(6, stepS), crank(1.2, crankStepS), running(seconds, stepS)];
}

export function reversed(stretches: readonly Stretch[]): Stretch[] {
  const turn = (course: Course | undefined): Course | undefined =>
    typeof course === 'function' ? (s, n) => -course(s, n) : course === undefined ? undefined : -course;
  return stretches.map((part) => ({ ...part, i: turn(part.i) }));
}

export function withoutCurrent(stretches: readonly Stretch[]): Stretch[] {
  return stretches.map(({ i: _, ...part }) => part);
}
