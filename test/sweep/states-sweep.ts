/**
 * Holds the reading of states against many simulated vehicles: `npm run sweep:states -- [count] [first] [family]`. Prints
 * which state is taken for which, in hours, how many logs have every drive right, and every log that has not. `FOR=300` in front ends
 * it after so many seconds; `logs` says how far it came.
 */
import { createAnalyser } from '../../src/analysis/analyse.ts';
import type { Analysis } from '../../src/analysis/model.ts';
import type { Truth } from '../../src/demo/truth.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import type { SampleBlock } from '../../src/log/block.ts';
import { createGapFinder } from '../../src/log/order/gaps.ts';
import { compare } from '../simulated/compare.ts';
import { fromAnalysis } from '../simulated/observed.ts';
import { cleanLog, sessionFor } from '../simulated/session-for.ts';
import { FAMILIES, type Family, type Hard, type SendsOnChange } from './families.ts';
import { randomScenario } from './vehicles.ts';

const KINDS = [
  'cranking',
  'driving',
  'key-on',
  'settling',
  'asleep',
  'awake',
  'on-charger',
  'disconnected',
  'no-data',
  'unknown',
] as const;
type Kind = (typeof KINDS)[number];

const [count = '100', first = '0', only] = process.argv.slice(2);
const hours = new Map<string, number>();
const sums = {
  logs: 0,
  exact: 0,
  trulyS: 0,
  foundS: 0,
  offS: 0,
  cranks: 0,
  cranksFound: 0,
  cranksFalse: 0,
  chargerFalseS: 0,
};
const wrong: string[] = [];
const perFamily = new Map<string, { logs: number; exact: number }>();
const beganAt = Date.now();
const forMs = 1000 * Number(process.env.FOR ?? Number.POSITIVE_INFINITY);
const names = only ? [only] : ['usual', ...Object.keys(FAMILIES)];
for (let number = Number(first); number < Number(first) + Number(count) && Date.now() - beganAt < forMs; number++) {
  const name = names[number % names.length];
  const family = FAMILIES[name] as Family | undefined;
  const scenario = family ? family(number) : randomScenario(number);
  hold(name, number, scenario);
}
print();

function hold(name: string, number: number, scenario: Hard): void {
  const { analysis, truth } = analysed(scenario);
  const stepS = scenario.logging.crank?.stepS ?? scenario.logging.stepS;
  const told = compareStates(analysis, truth, stepS);
  const family = perFamily.get(name) ?? { logs: 0, exact: 0 };
  perFamily.set(name, family);
  family.logs++;
  sums.logs++;
  const faults = [...told];
  if (process.env.ALL) faults.push(...compare(fromAnalysis(analysis), truth, scenario));
  if (told.length === 0) {
    sums.exact++;
    family.exact++;
  }
  if (faults.length > 0)
    wrong.push(
      `- ${name} ${number} (${scenario.powertrain}, ${scenario.systemV} V, step ${scenario.logging.stepS}/${stepS} s${scenario.sensor.hasCurrent ? '' : ', no current'}): ${faults.join('; ')}`,
    );
}

function analysed(scenario: Hard): { analysis: Analysis; truth: Truth } {
  const simulation = simulate(scenario);
  const analyser = createAnalyser(sessionFor(scenario));
  const gaps = createGapFinder();
  const change = scenario.sendsOnChange;
  for (const block of change ? sentOnChange(simulation.samples, change) : simulation.samples) {
    analyser.push(block);
    for (let row = 0; row < block.n; row++) gaps.push(block.t[row]);
  }
  return { analysis: analyser.finish(cleanLog(gaps.finish())), truth: simulation.truth() };
}

/** Only the rows that such a logger writes. */
function* sentOnChange(samples: Iterable<SampleBlock>, change: SendsOnChange): Generator<SampleBlock> {
  let last = { t: Number.NEGATIVE_INFINITY, v: 0, i: 0 };
  for (const block of samples) {
    const kept: number[] = [];
    for (let k = 0; k < block.n; k++) {
      const [t, v, i] = [block.t[k], block.v[k], block.i[k]];
      const isSame =
        Math.abs(v - last.v) < change.volts &&
        Math.abs(i - last.i) < Math.max(change.amps, change.share * Math.abs(last.i)) &&
        t - last.t < change.atLeastEveryS;
      if (isSame) continue;
      kept.push(k);
      last = { t, v, i };
    }
    if (kept.length === 0) continue;
    const pick = (column: Float64Array) => Float64Array.from(kept, (k) => column[k]);
    const { t, v, i, temp, ch } = block;
    yield { n: kept.length, t: pick(t), v: pick(v), i: pick(i), temp: pick(temp), ch: ch.map(pick) };
  }
}

function compareStates(analysis: Analysis, truth: Truth, stepS: number): string[] {
  const faults: string[] = [];
  let k = 0;
  for (const period of truth.periods) {
    while (k < analysis.periods.length && analysis.periods[k].end <= period.start) k++;
    for (let j = k; j < analysis.periods.length && analysis.periods[j].start < period.end; j++) {
      const found = analysis.periods[j];
      const seconds = Math.min(found.end, period.end) - Math.max(found.start, period.start);
      const key = `${period.kind}|${found.kind}`;
      hours.set(key, (hours.get(key) ?? 0) + seconds / 3600);
      if (found.kind === 'on-charger' && period.kind !== 'on-charger') {
        sums.chargerFalseS += seconds;
        if (seconds > 120)
          faults.push(`${seconds.toFixed(0)} s of ${period.kind} called a charger at ${iso(found.start)}`);
      }
    }
  }
  // Trips that the log holds whole; engine stops at lights do not part them.
  const drives = truth.drives.flatMap(({ start, end }) => {
    const inLog = { start: Math.max(start, analysis.start), end: Math.min(end, analysis.end) };
    return inLog.end > inLog.start ? [inLog] : [];
  });
  const trulyS = drives.reduce((sum, d) => sum + d.end - d.start, 0);
  const foundS = analysis.drives.reduce((sum, d) => sum + d.end - d.start, 0);
  sums.trulyS += trulyS;
  sums.foundS += foundS;
  sums.offS += Math.abs(trulyS - foundS);
  if (drives.length !== analysis.drives.length) faults.push(`${analysis.drives.length} drives, truly ${drives.length}`);
  else if (Math.abs(foundS - trulyS) > Math.max(0.03 * trulyS, 20 * drives.length, 2 * stepS * drives.length))
    faults.push(`${foundS.toFixed(0)} s driven, truly ${trulyS.toFixed(0)} s`);
  if (stepS <= 0.1) {
    const near = (times: readonly { at: number }[], at: number) => times.some((other) => Math.abs(other.at - at) < 1.5);
    const cranks = truth.cranks.filter(({ at }) => at > analysis.start + 2 && at < analysis.end - 2);
    const found = cranks.filter((crank) => near(analysis.cranks, crank.at)).length;
    const made = analysis.cranks.filter((crank) => !near(truth.cranks, crank.at)).length;
    sums.cranks += cranks.length;
    sums.cranksFound += found;
    sums.cranksFalse += made;
    if (found < cranks.length || made > 0) faults.push(`${found} of ${cranks.length} cranks, ${made} made up`);
  }
  return faults;
}

function print(): void {
  const out: string[] = [`| truly \\ told | ${KINDS.join(' | ')} |`, `| --- |${' ---: |'.repeat(KINDS.length)}`];
  for (const truly of KINDS) {
    const row = KINDS.map((told: Kind) => (hours.get(`${truly}|${told}`) ?? 0).toFixed(2));
    if (row.some((cell) => cell !== '0.00')) out.push(`| ${truly} | ${row.join(' | ')} |`);
  }
  out.push(
    '',
    JSON.stringify(sums),
    ...[...perFamily].map(([name, { logs, exact }]) => `${name}: ${exact} of ${logs}`),
    '',
    ...wrong,
  );
  process.stdout.write(`${out.join('\n')}\n`);
}

function iso(t: number): string {
  return new Date(t * 1000).toISOString().slice(0, 19);
}
