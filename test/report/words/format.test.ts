import { describe, expect, it } from 'vitest';
import { makeFormat, spoken } from '../../../src/report/words/format.ts';
import { decimalsFor } from '../../../src/report/words/numbers.ts';

const utc = { offsetMs: () => 0 };
const format = makeFormat('en-GB', utc);
/** No-break spaces shown as `_`, the narrow one between digits as `'`. */
const seen = (text: string) => text.replaceAll('\u00a0', '_').replaceAll('\u202f', "'");

describe('a value with its uncertainty', () => {
  it.each([
    [0.0832, 0.0021, '83_mA_±_2_mA'],
    [0.0832, 0.0014, '83.2_mA_±_1.4_mA'],
    [0.0832, 0.0196, '83_mA_±_20_mA'],
    [0.0832, 0.00096, '83.2_mA_±_1.0_mA'],
    [0.4837, 0.036, '480_mA_±_40_mA'],
    [-0.0004, 0.0012, '−0.4_mA_±_1.2_mA'],
  ])('%f A ± %f A is written %s', (value, uncertainty, text) => {
    expect(seen(format.mA(value, uncertainty))).toBe(text);
  });

  it('has at most two significant digits of uncertainty', () => {
    expect([0.0021, 0.0149, 0.96, 1, 99.9, 340].map(decimalsFor)).toEqual([3, 3, 1, 1, -1, -2]);
  });
});

describe('a value alone', () => {
  it.each([
    [format.mA(0.0832), '83_mA'],
    [format.mA(0.00423), '4.2_mA'],
    [format.A(143.2), '143_A'],
    [format.A(1.256), '1.26_A'],
    [format.V(12.4), '12.40_V'],
    [format.Ah(6.449), '6.45_Ah'],
    [format.mohm(0.00512), '5.1_mΩ'],
    [format.percent(0.623), '62_%'],
    [format.percent(0.0004), '0.04_%'],
    [format.percent(0.00002), '<_0.01_%'],
    [format.percent(0), '0_%'],
    [format.temp(-7.4), '−7_°C'],
    [format.number(13221), "13'221"],
    [format.number(1234), '1234'],
    [format.number(1234567), "1'234'567"],
    [format.number(0), '0'],
    [format.number(0.0625), '0.0625'],
    [format.count(1, 'stand', 'stands'), '1_stand'],
    [format.count(3, 'stand', 'stands'), '3_stands'],
    [format.mA(null), 'not known'],
    [format.V(Number.NaN), 'not known'],
    [format.bytes(41_320_000), '41.3_MB'],
  ])('%s', (text, expected) => expect(seen(text)).toBe(expected));

  it('never writes a minus before nought', () => expect(seen(format.mA(-0.00001))).toBe('0.0_mA'));
});

describe('durations', () => {
  it.each([
    [0, '0_s'],
    [0.84, '0.8_s'],
    [1, '1_s'],
    [45, '45_s'],
    [59.7, '1_min'],
    [150, '2_min_30_s'],
    [599.8, '10_min'],
    [1500, '25_min'],
    [3599, '1_h'],
    [12_000, '3_h_20_min'],
    [172_800, '2_days'],
    [442_800, '5_days_3_h'],
  ])('%f s is %s', (seconds, text) => expect(seen(format.duration(seconds))).toBe(text));
  it.each([
    [1500, 240, '25_min_±_4_min'],
    [655, 47, '11_min_±_1_min'],
    [94_255, 47, '26_h_11_min_±_1_min'],
    [300, 4, '5_min_±_4_s'],
    [40, 3, '40_s_±_3_s'],
  ])('%f s ± %f s is %s', (seconds, U, text) => expect(seen(format.duration(seconds, U))).toBe(text));
  it('says it in a title without the uncertainty, and rounded to it', () => {
    expect(seen(spoken(format).duration(94_255, 47))).toBe('26_h_11_min');
    expect(seen(spoken(format).duration(590, 47))).toBe('10_min');
  });
  it('says a voltage to hundredths, as people do, and a drop as finely as it is known', () => {
    expect(seen(spoken(format).V(12.1185, 0.0175))).toBe('12.12_V');
    expect(seen(spoken(format).quantity(12.1185, 'V', 0.0175))).toBe('12.12_V');
    expect(seen(spoken(format).V(7.71, 0.31))).toBe('7.7_V');
    expect(seen(spoken(format).V(0.1234, 0.002))).toBe('0.123_V');
    expect(seen(format.V(12.1185, 0.0172))).toBe('12.119_V_±_0.017_V');
  });
  it('counts days', () => {
    expect(seen(format.days(86_400))).toBe('1_day');
    expect(seen(format.days(12.3 * 86_400, 2.6 * 86_400))).toBe('12_days_±_3_days');
  });
});

describe('dates and times', () => {
  const t = Date.UTC(2026, 2, 29, 0, 59) / 1000;
  const dublin = makeFormat('en-GB', { offsetMs: (ms) => (ms >= Date.UTC(2026, 2, 29, 1) ? 3_600_000 : 0) });
  it('are in the zone that is handed in, across a clock change', () => {
    expect(dublin.time(t)).toBe('00:59');
    expect(dublin.time(t + 60)).toBe('02:00');
    expect(seen(dublin.dateTime(t))).toBe('Sun_29_Mar_2026, 00:59');
  });
  it('follow the locale', () => {
    const german = makeFormat('de-DE', utc);
    expect(seen(german.V(12.4))).toBe('12,40_V');
    expect(seen(german.date(t))).toBe('So._29._März_2026');
    expect(seen(german.number(13221))).toBe("13'221");
    expect(seen(german.days(172_800))).toBe('2_Tage');
  });
});

describe('a quantity in a check’s unit', () => {
  it.each([
    [format.quantity(0.083, 'A', 0.002), '83_mA_±_2_mA'],
    [format.quantity(2.5, 'A'), '2.50_A'],
    [format.quantity(0.005, 'Ω'), '5.0_mΩ'],
    [format.quantity(0.75, '1', 0.08), '75_%_±_8_%'],
    [format.quantity(3, 'd'), '3_days'],
    [format.limit(0.05, 'A'), '50_mA'],
    [format.limit(9.6, 'V'), '9.6_V'],
    [format.limit(13.7685, 'V'), '13.77_V'],
    [format.limit(-24.36, '°C'), '−24.4_°C'],
    [format.limit(1800, 's'), '30_min'],
    [format.limit(0.4, '1'), '40_%'],
  ])('%s', (text, expected) => expect(seen(text)).toBe(expected));
});
