/** When the logger writes a row. */
import type { Plan } from './plan.ts';
import type { Scenario } from './scenario.ts';

interface Window {
  readonly from: number;
  readonly to: number;
  readonly stepS: number;
}

/** Times of all rows, s from the start of the log, in order. */
export function* sampleTimes(scenario: Scenario, plan: Plan): Generator<number> {
  const gaps = scenario.logging.gaps ?? [];
  let last = -1;
  for (const { from, to, stepS } of windowsOf(scenario, plan)) {
    // Counted, not summed: 29 million additions of 0.1 would drift.
    for (let k = 0, t = from; t < to; k++, t = from + k * stepS) {
      if (t <= last) continue;
      if (gaps.some((gap) => t >= gap.from && t < gap.to)) continue;
      last = t;
      yield t;
    }
  }
}

function windowsOf(scenario: Scenario, plan: Plan): Window[] {
  const { stepS, crank, asleep } = scenario.logging;
  const fast: Window[] = [];
  if (crank) {
    for (const c of plan.cranks) {
      const from = Math.max(0, c.from - crank.beforeS, fast.at(-1)?.to ?? 0);
      fast.push({ from, to: Math.min(scenario.seconds, c.to + crank.afterS), stepS: crank.stepS });
    }
  }
  const slow = asleep ? plan.segments.filter((s) => s.kind === 'asleep') : [];
  // Loggers stamp whole milliseconds: a finer edge would give two rows with one time.
  const edges = [...fast, ...slow].flatMap((w) => [wholeMs(w.from), wholeMs(w.to)]);
  const times = [...new Set([0, ...edges, scenario.seconds])].sort((a, b) => a - b);
  const windows: Window[] = [];
  for (let k = 0; k + 1 < times.length; k++) {
    const from = times[k];
    const inFast = fast.some((w) => from >= wholeMs(w.from) && from < wholeMs(w.to));
    const inSlow = asleep && slow.some((w) => from >= wholeMs(w.from) && from < wholeMs(w.to));
    const step = inFast && crank ? crank.stepS : inSlow ? asleep.stepS : stepS;
    const last = windows.at(-1);
    if (last?.stepS === step) windows[windows.length - 1] = { ...last, to: times[k + 1] };
    else windows.push({ from, to: times[k + 1], stepS: step });
  }
  return windows;
}

function wholeMs(t: number): number {
  return Math.round(t * 1000) / 1000;
}
