// One change of the code a row: [file below src/, what stands there, what stands there instead, tests that should notice]. Each is a
// slip that somebody could make in figures, uncertainties or decisions; `golden(NAME)` stands for a kept report.
const unit = (...names) => names.map((name) => `test/${name}.test.ts`);
const golden = (...names) => names.map((name) => ({ file: 'test/golden/golden.test.ts', name }));
const U = unit('battery/uncertainty', 'published/uncertainty');
const stats = unit('battery/statistics', 'published/statistics');
const stand = unit('analysis/sleep/describe-stand');
const check = (name) => unit(`checks/${name}`);

export const MUTANTS = [
  ['battery/uncertainty.ts', 'Math.abs(halfWidth) / Math.sqrt(3)', 'Math.abs(halfWidth) / 2', U],
  ['battery/uncertainty.ts', 'return rectangular(step / 2);', 'return rectangular(step);', U],
  ['battery/uncertainty.ts', '(1 + edge * edge) / 6', '(1 - edge * edge) / 6', U],
  ['battery/uncertainty.ts', 'factor + (2 - factor) * Math.min(1, share)', 'factor', U],
  ['battery/uncertainty.ts', 'k + (2 - k) * Math.min(1, restU / u)', 'k', U],
  ['battery/uncertainty.ts', 'sum + part.weight * of(part)', 'sum + of(part)', U],
  ['battery/uncertainty.ts', 'if (margin < -asked.U)', 'if (margin < 0)', U],
  ['battery/statistics.ts', 'return (high - low) / (STRAY * n);', 'return (high - low) / (2 * STRAY * n);', stats],
  ['battery/statistics.ts', '(1 + together) / (1 - together)', '1', stats],
  [
    'battery/statistics.ts',
    'combine(a.uVolts, b.uVolts, value * a.uAmperes, value * b.uAmperes)',
    'combine(a.uVolts, b.uVolts)',
    stats,
  ],
  [
    'battery/capacity.ts',
    'Math.min(20, 0.4 * capacityAh) - goneAh',
    'Math.min(20, 0.4 * capacityAh)',
    unit('battery/capacity', 'published/capacity'),
  ],
  [
    'battery/capacity.ts',
    'reserveCapacityMin / 4 / 1000',
    'reserveCapacityMin / 5 / 1000',
    unit('battery/capacity', 'published/capacity'),
  ],
  [
    'battery/capacity.ts',
    'Math.max(0, drawA) * 24 + capacityAh * loss',
    'Math.max(0, drawA) * 24',
    unit('battery/capacity', 'published/planning'),
  ],
  [
    'battery/charging.ts',
    'maxV: [15.4, 15.0, 14.9, 14.7]',
    'maxV: [15.4, 14.8, 14.9, 14.7]',
    unit('battery/charging', 'published/charging'),
  ],
  [
    'battery/charging.ts',
    'const COMMANDED_V = 15.3;',
    'const COMMANDED_V = 15.0;',
    unit('battery/charging', 'published/charging'),
  ],
  ['battery/charging.ts', 'HEAT_LIMIT_C = 52', 'HEAT_LIMIT_C = 55', unit('published/charging')],
  [
    'battery/cranking.ts',
    'LOAD_TEST_V: readonly number[] = [8.5, 8.7',
    'LOAD_TEST_V: readonly number[] = [8.3, 8.7',
    unit('published/cranking'),
  ],
  [
    'battery/cranking.ts',
    'INRUSH_S = 0.3',
    'INRUSH_S = 0.1',
    [...unit('analysis/cranks/crank-finder', 'checks/crank-voltage'), ...golden('worn-in-the-cold')],
  ],
  [
    'battery/density.ts',
    '[1.12, 1.155, 1.19, 1.225, 1.265]',
    '[1.12, 1.155, 1.19, 1.225, 1.275]',
    unit('published/rest-voltage'),
  ],
  ['battery/freezing.ts', 'FREEZING_DRAINED_C = -2.8', 'FREEZING_DRAINED_C = -9.4', unit('published/freezing')],
  [
    'battery/rated-resistance.ts',
    'fallV * warmer)',
    'fallV)',
    unit('battery/rated-resistance', 'checks/battery-resistance'),
  ],
  ['battery/rest-voltage.ts', '      rectangular(surfaceV / 2),\n', '', unit('battery/rest-voltage')],
  ['battery/rest-voltage.ts', '      rectangular(cold.halfV),\n', '', unit('battery/rest-voltage')],
  [
    'battery/rest-voltage.ts',
    'reading.volts / scale - surfaceV / 2',
    'reading.volts / scale',
    unit('battery/rest-voltage'),
  ],
  [
    'battery/self-discharge.ts',
    'NEWER_SHARE = 1 / 6',
    'NEWER_SHARE = 1 / 3',
    unit('published/planning', 'battery/capacity'),
  ],
  // Uncertainty terms of the analysis and the measures.
  [
    'analysis/uncertain.ts',
    'ohm * accuracyOf(role, session).relative',
    '(ohm * accuracyOf(role, session).relative) / 9',
    [...unit('analysis/cranks/crank-finder'), ...golden('worn-in-the-cold', 'sound')],
  ],
  [
    'analysis/uncertain.ts',
    'noise > step / 2 ? 0 : step / 2',
    'noise > step / 2 ? 0 : step / 8',
    [...stand, ...golden('poor-sensor-slow-log')],
  ],
  ['analysis/totals.ts', 'jumps / 12 + ', 'jumps / 48 + ', [...unit('published/uncertainty'), ...golden('sound')]],
  ['analysis/totals.ts', 'offsetA * hours', 'offsetA', unit('published/uncertainty')],
  ['analysis/totals.ts', 'STARTER_AS_PER_AH = 6', 'STARTER_AS_PER_AH = 1', golden('poor-sensor-slow-log')],
  [
    'analysis/sleep/describe-stand.ts',
    'rest.sinceChargeS >= Math.min(best.sinceChargeS, WHOLE_REST_S)',
    'false',
    stand,
  ],
  ['analysis/sleep/describe-stand.ts', 'REST_WINDOW_S = 600', 'REST_WINDOW_S = 1800', [...stand, ...golden('sound')]],
  [
    'analysis/sleep/sleep.ts',
    ' && level.untilS >= SHUTDOWN_S + LONG_FLAT_S / 2',
    '',
    [
      ...stand,
      ...unit('analysis/sleep/sleep', 'analysis/sleep/wakes', 'analysis/sleep/pulses'),
      ...golden('late-sleep', 'load-that-stays'),
    ],
  ],
  [
    'analysis/cranks/crank-figures.ts',
    'const SLOW_SHARE = 0.25;',
    'const SLOW_SHARE = 0.05;',
    [...unit('analysis/cranks/crank-figures', 'analysis/cranks/crank-finder'), ...golden('worn-in-the-cold')],
  ],
  [
    'measures/long-run-draw.ts',
    'wakesA / Math.sqrt(wakes.length || 1),',
    '0,',
    [...check('stand-time'), ...golden('wakes-by-a-clock')],
  ],
  [
    'measures/wakes/wake-charge-u.ts',
    'stepS) / Math.sqrt(6)',
    'stepS) / 6',
    [...unit('measures/wakes/wake-weight'), ...check('wake-ups'), ...golden('wakes-by-a-clock')],
  ],
  ['measures/stands.ts', 'const FADING_S = 30;', 'const FADING_S = 300;', [...check('sleep-time'), ...golden('sound')]],
  [
    'measures/freeze-risks.ts',
    'freezingPointC(Math.max(0, charge.value - charge.U)).high',
    'freezingPointC(charge.value).high',
    [...check('freeze-risk'), ...golden('low-in-the-frost')],
  ],
  ['log/order/jump-back.ts', 'if (isHole) course.shiftS = shiftS;', '', unit('log/damage', 'log/order/sequence')],
  // Decisions.
  ['checks/charging-low.ts', 'lowS >= drivenS / 2 || failedLast', 'failedLast', check('charging-low')],
  ['checks/charging-low.ts', '< -LEAST_DRAIN_A;', '< 0;', check('charging-low')],
  [
    'checks/charging-high.ts',
    "=== 'beyond'\n          ? 'above-usual'",
    "=== 'within'\n          ? 'above-usual'",
    check('charging-high'),
  ],
  ['checks/deep-discharge.ts', 'if (emptyS >= HARMFUL_S)', 'if (emptyS >= 10 * HARMFUL_S)', check('deep-discharge')],
  [
    'checks/parked-draw.ts',
    "=== 'beyond';\n    return { ...base, status: worstBeyond ? 'watch' : 'clear' };",
    "=== 'within';\n    return { ...base, status: worstBeyond ? 'watch' : 'clear' };",
    check('parked-draw'),
  ],
  ['checks/charge-balance.ts', 'limit: 2 * limit.value', 'limit: 6 * limit.value', check('charge-balance')],
  [
    'checks/resting-charge.ts',
    'highest.value - value > highest.U + U',
    'highest.value - value > 0',
    check('resting-charge'),
  ],
  ['checks/stand-time.ts', 'charge.value + charge.U)', 'charge.value)', [...check('stand-time'), ...golden('sound')]],
  ['checks/battery-resistance.ts', 'temperatureC < RATED_AT_C', 'temperatureC < 0', check('battery-resistance')],
  ['checks/battery-resistance.ts', 'FAR_BEYOND = 2', 'FAR_BEYOND = 4', check('battery-resistance')],
  [
    'checks/crank-voltage.ts',
    'weak.length >= 2 || weak.length * 3 >= judged.length',
    'weak.length >= 2',
    check('crank-voltage'),
  ],
  ['checks/sleep-time.ts', 'value > 2 * limit.value', 'value > 8 * limit.value', check('sleep-time')],
  [
    'checks/held-awake.ts',
    'longest.seconds > 2 * limit.value',
    'longest.seconds > 9 * limit.value',
    check('held-awake'),
  ],
  ['checks/battery-heat.ts', "if (charging?.decision === 'undecided')", 'if (false)', check('battery-heat')],
  [
    'measures/wakes/wake-weight.ts',
    'const LITTLE = 0.2;',
    'const LITTLE = 0.4;',
    [...unit('measures/wakes/wake-weight'), ...check('wake-ups'), ...golden('wakes-by-a-clock')],
  ],
];
