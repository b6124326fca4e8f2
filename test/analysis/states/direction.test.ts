import { describe, expect, it } from 'vitest';
import { analysed, log, type Stretch, stretch } from '../blocks.ts';
import { asleep, charger, drive, reversed, settling } from '../vehicle.ts';

const directionOf = (stretches: readonly Stretch[]) => analysed(log(stretches)).direction;

describe('the sign of current', () => {
  const day = [asleep(3600, 1), ...drive(1200, 1, 0.05), ...settling(1), asleep(3600, 1)];

  it('is believed where cranks, drives and steps agree with it', () => {
    const { flipped, agree, against } = directionOf(day);
    expect({ flipped, against }).toEqual({ flipped: false, against: 0 });
    expect(agree).toBeGreaterThanOrEqual(3);
  });

  it('is put right where they all speak against it', () => {
    const { flipped, agree, against } = directionOf(reversed(day));
    expect({ flipped, agree }).toEqual({ flipped: true, agree: 0 });
    expect(against).toBeGreaterThanOrEqual(3);
  });

  it('is put right from a charger alone', () => {
    const charged = [asleep(3600, 1), charger(7200, 1), asleep(3600, 1)];
    expect(directionOf(charged)).toMatchObject({ flipped: false });
    expect(directionOf(reversed(charged))).toMatchObject({ flipped: true });
  });

  it('stays as stated where nothing shows it', () => {
    expect(directionOf([asleep(36_000, 5)])).toMatchObject({ flipped: false, agree: 0, against: 0 });
    expect(directionOf(reversed([asleep(36_000, 5)]))).toMatchObject({ flipped: false, agree: 0, against: 0 });
  });

  it('is not turned by a few odd steps against a whole drive', () => {
    const odd = Array.from({ length: 3 }, () => [
      stretch(30, 1, { v: 12.6, i: -0.02 }),
      stretch(30, 1, { v: 12.7, i: -5 }),
    ]).flat();
    expect(directionOf([...day, ...odd])).toMatchObject({ flipped: false });
  });

  it('turned round, gives the same sleeping draw, charge and stands', () => {
    const straight = analysed(log(day));
    const turned = analysed(log(reversed(day)));
    expect(turned.stands).toEqual(straight.stands);
    expect(turned.totals).toEqual(straight.totals);
    expect(turned.periods).toEqual(straight.periods);
  });
});

describe('a battery that was taken off', () => {
  it('several times does not speak against the sign: voltage and draw come back together', () => {
    const refitted = [stretch(120, 1, { v: 0.01, i: 0 }), ...settling(1), asleep(3600, 1)];
    const log6 = [asleep(3600, 1), ...Array.from({ length: 6 }, () => refitted).flat()];
    expect(directionOf(log6)).toMatchObject({ flipped: false, against: 0 });
  });
});

it('a slow log’s tile that begins from a lost supply is no step either', () => {
  const refitted = [stretch(120, 2, { v: 0.01, i: 0 }), stretch(600, 2, { v: 12.45, i: -8 }), asleep(3600, 2)];
  const back = Array.from({ length: 6 }, () => refitted).flat();
  expect(directionOf([asleep(3600, 2), ...back])).toMatchObject({ flipped: false });
});
