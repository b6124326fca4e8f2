/** How the readings spread that ought to be nought, or no more than a small draw, beside what the sensor's accuracy leaves open. */
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { quantile } from '../battery/statistics.ts';
import { type Draft, findingOf, limitUpright, panel, rows, type Subject, topLevel, valueX, valueY } from './chart.ts';
import { numberTicks, rounded, shownAs } from './drawing/numbers.ts';
import { BLUE, GREY, PALE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'current-zero';
const BINS = 60;
const HEIGHT = 120;

/** Of the stretch that the finding was judged by: a sleep, or a disconnection. Null where all is well. */
export function currentZero({ analysis, findings, words }: Subject): Draft | null {
  const finding = findingOf(findings, name);
  const span = finding?.evidence?.[0];
  const U = finding?.measured?.uncertainty;
  if (!finding || !span || !U || finding.status === 'clear') return null;
  const { tiles } = analysis;
  const isOff = finding.variant === 'while-off' || finding.reason === 'lead-or-zero';
  const chosen = tilesIn(analysis, [isOff ? 'disconnected' : 'asleep']).filter(
    (k) => tiles.t0[k] >= span.from && tiles.t1[k] <= span.to && !Number.isNaN(tiles.i[k]),
  );
  if (chosen.length === 0) return null;
  const amps = chosen.map((k) => tiles.i[k]);
  const [low, high] = [quantile(amps, 0.005), quantile(amps, 0.995)];
  const { unit, factor } = shownAs('A', Math.max(Math.abs(low), Math.abs(high), U), words);
  const axis = niceTicks(factor * Math.min(low, -1.3 * U), factor * Math.max(high, 1.3 * U), 8);
  const width = (axis.domain[1] - axis.domain[0]) / BINS;
  const seconds = new Float64Array(BINS);
  for (const k of chosen) {
    const bin = Math.floor((factor * tiles.i[k] - axis.domain[0]) / width);
    if (bin >= 0 && bin < BINS) seconds[bin] += tiles.t1[k] - tiles.t0[k];
  }
  const most = Math.max(...seconds);
  const bars = [...seconds].flatMap((s, bin) =>
    s > 0
      ? [
          {
            t: rounded(axis.domain[0] + bin * width),
            end: rounded(axis.domain[0] + (bin + 1) * width),
            y: rounded(s / most),
            zero: 0,
          },
        ]
      : [],
  );
  const x = valueX('t', numberTicks(axis.values, words), axis.domain, words.say('axis.into_battery', { unit }));
  const y = valueY('y', { values: [], labels: [] }, [0, 1.15]);
  const band = { t: rounded(-factor * U), end: rounded(factor * U), label: words.say('mark.left_open') };
  const title = words.say(`title.${name}`);
  const layer = [
    { data: rows([band]), mark: { type: 'rect', color: PALE }, encoding: { x, x2: { field: 'end' } } },
    {
      data: rows(bars),
      mark: { type: 'rect', color: BLUE },
      encoding: { x, x2: { field: 'end' }, y, y2: { field: 'zero' } },
    },
    ...limitUpright(x, 0, words.say('mark.no_current')),
    {
      data: rows([band]),
      mark: { type: 'text', align: 'right', baseline: 'top', dx: -4, color: GREY },
      encoding: { x, y: { value: 2 }, text: { field: 'label' } },
    },
  ];
  const heading = { title: words.say('axis.share_of_time'), note: words.say('note.current-zero'), height: HEIGHT };
  return {
    name,
    check: name,
    title,
    spec: topLevel(title, panel({ ...heading, layer })),
    altFacts: { meanA: finding.measured?.value ?? null, leftOpenA: U },
  };
}
