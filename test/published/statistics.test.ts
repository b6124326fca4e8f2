import { describe, expect, it } from 'vitest';
import { linearFit, mean, standardDeviation, trapezium, twoPointResistance } from '../../src/battery/statistics.ts';

/** NIST StRD, linear regression, Norris: calibration of ozone monitors, [y, x]. */
const NORRIS: readonly (readonly [number, number])[] = [
  [0.1, 0.2],
  [338.8, 337.4],
  [118.1, 118.2],
  [888.0, 884.6],
  [9.2, 10.1],
  [228.1, 226.5],
  [668.5, 666.3],
  [998.5, 996.3],
  [449.1, 448.6],
  [778.9, 777.0],
  [559.2, 558.2],
  [0.3, 0.4],
  [0.1, 0.6],
  [778.1, 775.5],
  [668.8, 666.9],
  [339.3, 338.0],
  [448.9, 447.5],
  [10.8, 11.6],
  [557.7, 556.0],
  [228.3, 228.1],
  [998.0, 995.8],
  [888.8, 887.6],
  [119.6, 120.2],
  [0.3, 0.3],
  [0.6, 0.3],
  [557.6, 556.8],
  [339.3, 339.1],
  [888.0, 887.2],
  [998.5, 999.0],
  [778.9, 779.0],
  [10.2, 11.1],
  [117.6, 118.3],
  [228.9, 229.2],
  [668.4, 669.1],
  [449.2, 448.9],
  [0.2, 0.5],
];

/** Digits in which two numbers agree (the logarithm of the relative error, as NIST counts them). */
function digits(found: number, certified: number): number {
  return -Math.log10(Math.abs(found - certified) / Math.abs(certified));
}

describe('NIST StRD (certified values seen, second-hand copy)', () => {
  it('fits Norris to at least 9 digits', () => {
    const fit = linearFit(
      NORRIS.map(([, x]) => x),
      NORRIS.map(([y]) => y),
    );
    expect(NORRIS).toHaveLength(36);
    expect(digits(fit?.intercept ?? 0, -0.262323073774029)).toBeGreaterThan(9);
    expect(digits(fit?.slope ?? 0, 1.00211681802045)).toBeGreaterThan(9);
    expect(digits(fit?.residualSd ?? 0, 0.884796396144373)).toBeGreaterThan(9);
    // certified standard deviations of the estimates (from memory)
    expect(digits(fit?.interceptU ?? 0, 0.232818234301152)).toBeGreaterThan(9);
    expect(digits(fit?.slopeU ?? 0, 0.000429796848199937)).toBeGreaterThan(9);
  });

  it('finds the standard deviation 0.1 of NumAcc4, where squares summed in one pass lose it', () => {
    const values = [10000000.2];
    for (let pair = 0; pair < 500; pair++) values.push(10000000.1, 10000000.3);
    expect(values).toHaveLength(1001);
    expect(digits(mean(values), 10000000.2)).toBeGreaterThan(14);
    // The data themselves are held to 2e-9 (their last bit), so 8 digits are what there is to be had.
    expect(digits(standardDeviation(values), 0.1)).toBeGreaterThan(8);

    const sum = values.reduce((total, value) => total + value, 0);
    const squares = values.reduce((total, value) => total + value ** 2, 0);
    const onePass = Math.sqrt(Math.abs(squares - sum ** 2 / 1001) / 1000);
    expect(Math.abs(onePass - 0.1)).toBeGreaterThan(0.001);
  });
});

describe('trapezium rule', () => {
  // computed: (π/n)·cot(π/2n), the rule's closed form for the sine from 0 to π
  it.each([
    [10, 1.983524],
    [100, 1.999836],
  ])('sine from 0 to π in %i steps: %f', (n, area) => {
    const xs = Array.from({ length: n + 1 }, (_, i) => (Math.PI * i) / n);
    expect(trapezium(xs, xs.map(Math.sin))).toBeCloseTo(area, 6);
  });

  // computed
  it('is exact for a constant and a ramp on uneven steps', () => {
    const xs = [0, 0.1, 0.5, 3, 10];
    expect(trapezium(xs, [2, 2, 2, 2, 2])).toBeCloseTo(20, 12);
    expect(
      trapezium(
        xs,
        xs.map((x) => 3 * x),
      ),
    ).toBeCloseTo(150, 12);
  });
});

describe('resistance from two loads', () => {
  // computed, by the method of IEC 60896-21 (from memory)
  it('(40 A, 12.30 V), (200 A, 11.50 V): 5.00 mΩ, 12.50 V at no load', () => {
    const exact = { uAmperes: 0, uVolts: 0 };
    const found = twoPointResistance({ amperes: 40, volts: 12.3, ...exact }, { amperes: 200, volts: 11.5, ...exact });
    expect(found?.value).toBeCloseTo(0.005, 9);
    expect(found?.openV).toBeCloseTo(12.5, 9);
  });
});
