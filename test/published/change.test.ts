import { describe, expect, it } from 'vitest';
import { firstDrift, levelChange } from '../../src/battery/change.ts';

// Cobb 1978, Biometrika 65:243: yearly flow of the Nile, 1871 to 1970 (values from memory, proven by the two means)
const NILE = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140, 1100,
  1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969, 831, 726, 456,
  824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897,
  822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749, 838, 1050, 918, 986, 797, 923, 975,
  815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
];

// NIST/SEMATECH e-Handbook, 6.3.2.3 (seen)
const CUSUM_EXAMPLE = [
  324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325,
  327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
];

describe('one change of level', () => {
  // Cobb 1978 (seen); means computed
  it('lies after the 28th value of the Nile, from 1097.75 to 849.97', () => {
    expect(NILE).toHaveLength(100);
    const change = levelChange(NILE);
    expect(change?.before).toBe(28);
    expect(change?.meanBefore).toBeCloseTo(1097.75, 2);
    expect(change?.meanAfter).toBeCloseTo(849.97, 2);
    expect(change?.gain).toBeGreaterThan(40);
  });
});

describe('CUSUM', () => {
  // k 0.3175 and h 4.1959 from memory; the 14th value computed
  it('signals at the 14th value of the handbook example, upwards', () => {
    expect(firstDrift(CUSUM_EXAMPLE, { target: 325, slack: 0.3175, limit: 4.1959 })).toEqual({ index: 13, side: 'up' });
  });
});
