import { describe, expect, it } from 'vitest';
import type { SessionWishes } from '../blocks.ts';
import { analysed, log, noisy, type Stretch, stretch } from '../blocks.ts';
import { asleep, charger, crank, draw, drive, keyOn, running, settling, withoutCurrent } from '../vehicle.ts';

/** A tile that holds half of a change may be of either kind: what lasts a second says nothing. */
const kindsOf = (stretches: readonly Stretch[], wishes?: SessionWishes) =>
  analysed(log(stretches), wishes)
    .periods.filter((period) => period.kind === 'cranking' || period.end - period.start > 1.5)
    .map((period) => period.kind);
const secondsOf = (stretches: readonly Stretch[], kind: string, wishes?: SessionWishes) =>
  analysed(log(stretches), wishes)
    .periods.filter((period) => period.kind === kind)
    .reduce((sum, period) => sum + period.end - period.start, 0);
const drivesOf = (stretches: readonly Stretch[], wishes?: SessionWishes) => analysed(log(stretches), wishes).drives;

const before = asleep(3600, 1);
const after = [...settling(1), asleep(3600, 1)];

describe('what feeds the battery', () => {
  it('is a drive where a crank leads into it', () => {
    const day = [before, ...drive(1200, 1, 0.02), ...after];
    expect(kindsOf(day)).toEqual(['asleep', 'key-on', 'cranking', 'driving', 'settling', 'asleep']);
    expect(Math.abs(secondsOf(day, 'driving') - 1200)).toBeLessThan(15);
  });

  it('is a drive in a log too slow for cranks, by its restless current and an opened vehicle', () => {
    const day = [asleep(7200, 10), keyOn(20, 10), running(1200, 10), ...settling(10), asleep(7200, 10)];
    expect(drivesOf(day)).toHaveLength(1);
    expect(secondsOf(day, 'on-charger')).toBe(0);
  });

  it('is a charger where nobody opened the vehicle', () => {
    const night = [before, ...drive(600, 1, 0.02), ...after, charger(7200, 1), asleep(7200, 1)];
    expect(drivesOf(night)).toHaveLength(1);
    expect(Math.abs(secondsOf(night, 'on-charger') - 7200)).toBeLessThan(15);
  });

  it('is a charger in a log without any drive, quick or slow', () => {
    expect(secondsOf([before, charger(7200, 1), asleep(3600, 1)], 'on-charger')).toBeGreaterThan(7180);
    const slow = [asleep(36_000, 60), charger(36_000, 60), asleep(36_000, 60)];
    expect(drivesOf(slow)).toEqual([]);
    expect(Math.abs(secondsOf(slow, 'on-charger') - 36_000)).toBeLessThanOrEqual(120);
  });

  it('is a charger also while it lifts an empty battery from below 12 V', () => {
    const empty = stretch(3600, 1, { v: noisy((s) => 11 + s / 3600, 0.002), i: noisy(4, 0.003) });
    const day = [stretch(3600, 1, { v: 10.8, i: noisy(-0.02, 0.002) }), empty, charger(3600, 1), asleep(3600, 1)];
    expect(secondsOf(day, 'on-charger')).toBeGreaterThan(7180);
  });

  it('is a top-up in a parked electric vehicle, a drive where it was opened', () => {
    const wishes = { vehicle: { powertrain: 'electric' } } as const;
    // A top-up too begins with modules that wake; what tells the drive is that somebody leaves the vehicle after it.
    const topUp = [before, draw(noisy(3, 0.02), 30, 1), charger(1800, 1, 12), ...after];
    const parked = [before, charger(1800, 1, 12), asleep(3600, 1)];
    expect(drivesOf(parked, wishes)).toEqual([]);
    expect(secondsOf(parked, 'on-charger', wishes)).toBe(0);
    expect(drivesOf(topUp, wishes)).toHaveLength(1);
  });

  it('is a drive where a starter goes round the sensor and still pulls the voltage down, however still the charge', () => {
    const unseen = { ...crank(1.2, 0.02), i: noisy(-8, 0.05) };
    const day = (starter: Stretch) => [before, keyOn(2, 1), starter, charger(1200, 1, 12), ...after];
    expect(drivesOf(day(unseen))).toHaveLength(1);
    // The same without the dip is a charger.
    expect(drivesOf(day(keyOn(1.2, 0.02)))).toEqual([]);
  });

  it('is a drive, and no charger’s, where the voltage stopped moving after an earlier crank', () => {
    const frozen = [...drive(1200, 1, 0.02), ...settling(1)].map((part): Stretch => ({ ...part, v: 12.48 }));
    const day = [before, ...drive(1200, 1, 0.02), ...after, ...frozen, before];
    expect(drivesOf(day)).toHaveLength(2);
    expect(secondsOf(day, 'on-charger')).toBe(0);
  });

  it('is a drive from the first row where the log begins in one', () => {
    const kinds = kindsOf([running(900, 1), ...after]);
    expect(kinds).toEqual(['driving', 'settling', 'asleep']);
  });

  it('is a drive where the log is nothing but one', () => {
    expect(kindsOf([running(900, 1)])).toEqual(['driving']);
  });

  it('is known from voltage alone, where a restless regulator shows it', () => {
    const day = withoutCurrent([before, ...drive(1200, 1, 0.05), ...after]);
    expect(drivesOf(day)).toHaveLength(1);
  });
});

describe('a drive', () => {
  it('is one also where a failed regulator overcharges', () => {
    const over = stretch(600, 1, { v: noisy(18.6, 0.05), i: noisy(20, 0.6) });
    const made = analysed(log([before, ...drive(60, 1, 0.02), over, ...after]));
    expect(made.drives).toHaveLength(1);
    expect(made.totals.disconnectedS).toBe(0);
  });

  it('is one through a regulator let down on purpose', () => {
    const lowered = stretch(300, 1, { v: noisy(12.8, 0.02), i: noisy(-6, 0.6) });
    const day = [before, ...drive(600, 1, 0.02), lowered, running(600, 1), ...after];
    expect(drivesOf(day)).toHaveLength(1);
  });

  it('is one through stops at lights', () => {
    const stop = [draw(noisy(25, 0.5), 30, 1), ...drive(300, 1, 0.02).slice(1)];
    const day = [before, ...drive(600, 1, 0.02), ...stop, ...stop, ...after];
    const made = analysed(log(day));
    expect(made.drives).toHaveLength(1);
    expect(made.cranks).toHaveLength(3);
    expect(made.cranks.every((crank) => crank.started)).toBe(true);
  });

  it('is two where the vehicle stood between them', () => {
    const shop = [...settling(1, 300), asleep(900, 1)];
    expect(drivesOf([before, ...drive(600, 1, 0.02), ...shop, ...drive(600, 1, 0.02), ...after])).toHaveLength(2);
  });

  it('is seen without an alternator: consumers stay on after the crank', () => {
    const unfed = draw(noisy(28, 0.6), 900, 1);
    const day = [before, ...drive(0, 1, 0.02).slice(0, 2), unfed, ...after];
    const [found, ...more] = drivesOf(day);
    expect(more).toEqual([]);
    expect(found.end - found.start).toBeGreaterThan(850);
    expect(found.chargeInAh).toBeLessThan(0.01);
  });

  it('does not go on through a hole that may hide its end', () => {
    const made = drivesOf([
      before,
      ...drive(600, 1, 0.02),
      { ...stretch(1800, 1800, { v: 0 }), silent: true },
      running(600, 1),
      ...after,
    ]);
    expect(made).toHaveLength(2);
  });
});

describe('a current that comes from the sensor', () => {
  it('is no charger: it leaves the voltage where a battery rests', () => {
    const shifted = (seconds: number) => stretch(seconds, 1, { v: 12.45, i: noisy(0.58, 0.002) });
    const log = [shifted(9000), ...drive(1200, 1, 0.02), ...settling(1), shifted(9000)];
    expect(secondsOf(log, 'on-charger')).toBe(0);
    expect(secondsOf(log, 'asleep')).toBeGreaterThan(17_000);
    expect(drivesOf(log)).toHaveLength(1);
  });

  it('but a charger that lifts the voltage is one, however little it gives', () => {
    const trickle = stretch(7200, 1, { v: noisy(13.3, 0.002, 2), i: noisy(0.6, 0.002) });
    expect(secondsOf([before, trickle, asleep(3600, 1)], 'on-charger')).toBeGreaterThan(7100);
  });
});

describe('a generator that only carries the consumers', () => {
  const weak = (seconds: number) => stretch(seconds, 1, { v: noisy(12.6, 0.02, 2), i: noisy(-0.4, 0.8) });

  it('is a drive after a crank, told by a current that never rests', () => {
    const day = [before, keyOn(6, 1), crank(1.2, 0.02), weak(1500), ...after];
    expect(drivesOf(day)).toHaveLength(1);
    expect(Math.abs(secondsOf(day, 'driving') - 1500)).toBeLessThan(30);
  });

  it('is none where the engine did not start and the draw is steady', () => {
    const failed = [before, keyOn(6, 1), crank(1.2, 0.02), draw(0.4, 1500, 1), ...after];
    expect(drivesOf(failed)).toHaveLength(0);
  });
});

describe('charging that pauses or ends', () => {
  it('is one drive where the regulator lets current swing in and out by turns', () => {
    const swing = stretch(1500, 1, { v: noisy(12.8, 0.03, 2), i: noisy(0, 1) });
    const day = [before, ...drive(300, 1, 0.02), swing, ...after];
    expect(Math.abs(secondsOf(day, 'driving') - 1800)).toBeLessThan(30);
  });

  it('goes on driving where the generator dies on the way', () => {
    const uncharged = draw(noisy(18, 0.5), 1200, 1);
    const day = [before, ...drive(900, 1, 0.02), uncharged, ...after];
    expect(drivesOf(day)).toHaveLength(1);
    expect(Math.abs(secondsOf(day, 'driving') - 2100)).toBeLessThan(30);
  });

  it('is one drive in a slow log that shows each overrun in a row or two, and steady pauses between', () => {
    const pulse = stretch(60, 30, { v: 14.8, i: noisy(20, 0.5) });
    const pause = (seconds: number) => stretch(seconds, 30, { v: noisy(12.7, 0.02, 2), i: noisy(-3, 2) });
    const trip = [300, 120, 480, 210, 360].flatMap((seconds) => [pulse, pause(seconds)]);
    const day = [asleep(7200, 30), keyOn(30, 30), ...trip, pulse, ...settling(30), asleep(7200, 30)];
    expect(drivesOf(day)).toHaveLength(1);
  });

  it('ends with the key in a vehicle without modules, though surface charge keeps the voltage up', () => {
    const decay = stretch(600, 1, { v: (s) => 12.9 + 1.3 * Math.exp(-s / 120), i: noisy(-0.004, 0.001) });
    const day = [before, ...drive(900, 1, 0.02), decay, asleep(3600, 1, 0.004)];
    expect(secondsOf(day, 'on-charger')).toBe(0);
    expect(Math.abs(secondsOf(day, 'driving') - 900)).toBeLessThan(15);
  });
});

describe('a start without charging', () => {
  const runs = (seconds: number) =>
    Array.from({ length: seconds / 60 }, (_, k) => draw(noisy([20, 45, 18, 24][k % 4], 0.02), 60, 1));

  it('is a drive where more is drawn after it than with the key on, though each level is steady', () => {
    const key = draw(noisy(12, 0.02), 9, 1);
    const day = [before, key, crank(1, 1), ...runs(1440), ...after];
    expect(drivesOf(day)).toHaveLength(1);
    expect(Math.abs(secondsOf(day, 'driving') - 1440)).toBeLessThan(60);
  });

  it('is none where the key stays on as before', () => {
    const day = [before, draw(noisy(12, 0.02), 9, 1), crank(1, 1), draw(noisy(12, 0.02), 400, 1), ...after];
    expect(drivesOf(day)).toHaveLength(0);
  });
});

describe('a log of voltage alone', () => {
  it('tells a charger by the crank that it lacks, where no crank is missed', () => {
    const restless = { ...charger(7200, 0.1), v: noisy(14.1, 0.02, 2) };
    const day = [asleep(600, 0.1), ...drive(1200, 0.1), ...settling(0.1), restless, asleep(600, 0.1)];
    expect(Math.abs(secondsOf(withoutCurrent(day), 'on-charger') - 7200)).toBeLessThan(60);
    expect(drivesOf(withoutCurrent(day))).toHaveLength(1);
  });
});
