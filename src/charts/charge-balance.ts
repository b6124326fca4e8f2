/** Charge into and out of the battery, day by day, with the running sum of both. */

import type { Period } from '../analysis/model.ts';
import { lastOf, there } from '../base/there.ts';
import { type Draft, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { pxAlong, withRoom } from './drawing/labels.ts';
import { rounded, short, tickLabels } from './drawing/numbers.ts';
import type { SessionClock } from './drawing/session-clock.ts';
import { BLUE, INK, ORANGE, PLOT } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'charge-balance';
/** Pairs of bars that can still be told apart. */
const MOST_BARS = 60;

export function chargeBalance(subject: Subject): Draft | null {
  const { analysis, words, clock } = subject;
  if (!analysis.has.current || analysis.periods.length === 0) return null;
  const { days, each } = chargeByDay(analysis.periods, clock);
  const note =
    each === 1 ? words.say('note.charge-balance') : words.say('note.charge-balance-weeks', { weeks: each / 7 });
  const running = runningSum(days, analysis.start);
  const heights = days.flatMap((day) => [day.inAh, -day.outAh]);
  const { values, domain } = niceTicks(
    Math.min(0, ...heights, ...running.map(({ sumAh }) => sumAh)) * 1.15,
    Math.max(0, ...heights, ...running.map(({ sumAh }) => sumAh)) * 1.15,
    6,
  );
  const ticks = {
    values,
    labels: tickLabels(values, words).map((label, k) => (there(values[k]) > 0 ? `+${label}` : label)),
  };
  const x = timeX(subject, analysis.start, analysis.end);
  const yOf = (field: string) => valueY(field, ticks, domain);
  const quarter = (from: number, to: number, share: number) => clock.x(from + (to - from) * share);
  const bars = days.flatMap(({ from, to, inAh, outAh }) => [
    {
      t: quarter(from, to, 0.2),
      end: quarter(from, to, 0.5),
      at: quarter(from, to, 0.35),
      y: rounded(inAh),
      out: false,
      label: `+${short(inAh, words, 2)}`,
    },
    {
      t: quarter(from, to, 0.5),
      end: quarter(from, to, 0.8),
      at: quarter(from, to, 0.65),
      y: rounded(-outAh),
      out: true,
      label: `−${short(outAh, words, 2)}`,
    },
  ]);
  const sums = rows(running.map(({ t, sumAh }) => ({ t: clock.x(t), y: rounded(sumAh) })));
  const layer = [
    { data: rows([{ y: 0 }]), mark: { type: 'rule', color: INK, strokeWidth: 0.8 }, encoding: { y: yOf('y') } },
    {
      data: rows(bars),
      mark: { type: 'bar' },
      encoding: {
        x,
        x2: { field: 'end' },
        y: yOf('y'),
        y2: { datum: 0 },
        color: { condition: { test: 'datum.out', value: ORANGE }, value: BLUE },
      },
    },
    ...[false, true].map((out) =>
      barLabels(
        subject,
        bars.filter((bar) => bar.out === out),
        x,
        yOf('y'),
      ),
    ),
    // White below it keeps the line apart from the bars that it crosses.
    { data: sums, mark: { type: 'line', color: 'white', strokeWidth: 4 }, encoding: { x, y: yOf('y') } },
    {
      data: sums,
      mark: {
        type: 'line',
        color: INK,
        strokeWidth: 1.6,
        point: { shape: 'square', size: 26, color: INK, filled: true },
      },
      encoding: { x, y: yOf('y') },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'charge-balance',
    title,
    spec: topLevel(title, panel({ title: words.say('axis.charge_ah'), note, height: 200, layer })),
    altFacts: {
      days: days.length,
      inAh: analysis.totals.chargeInAh,
      outAh: analysis.totals.chargeOutAh,
      netAh: analysis.totals.chargeInAh - analysis.totals.chargeOutAh,
    },
  };
}

function barLabels({ analysis, clock }: Subject, bars: readonly Bar[], x: object, y: object) {
  const domainX: readonly [number, number] = [clock.x(analysis.start), clock.x(analysis.end)];
  const highestFirst = bars.filter((bar) => bar.y !== 0).sort((a, b) => Math.abs(b.y) - Math.abs(a.y));
  return {
    data: rows(withRoom(highestFirst, ({ at }) => pxAlong(at, domainX, PLOT))),
    mark: { type: 'text', dy: bars[0]?.out ? 9 : -8 },
    encoding: { x: { ...x, field: 'at' }, y, text: { field: 'label' } },
  };
}

interface Bar {
  readonly at: number;
  readonly y: number;
  readonly out: boolean;
  readonly label: string;
}

interface DayCharge {
  /** s since the epoch: the part of the local day that the log reaches. */
  readonly from: number;
  readonly to: number;
  readonly inAh: number;
  readonly outAh: number;
}

/** Days that share one pair of bars: one, and in a long log so many weeks that the pairs stay few. */
function daysOfBar(days: number): number {
  return days <= MOST_BARS ? 1 : 7 * Math.ceil(days / 7 / MOST_BARS);
}

/**
 * Charge by local day, or by so many; a period that goes on past midnight is shared out evenly, so the sums are those of the
 * periods.
 */
function chargeByDay(periods: readonly Period[], clock: SessionClock): { days: readonly DayCharge[]; each: number } {
  const [start, end] = [there(periods[0]).start, lastOf(periods).end];
  const first = clock.dayNumber(start);
  const count = clock.dayNumber(end) - first + 1;
  const each = daysOfBar(count);
  const days = Array.from({ length: Math.ceil(count / each) }, (_, k) => ({
    from: Math.max(start, clock.dayStart(first + k * each)),
    to: Math.min(end, clock.dayStart(first + (k + 1) * each)),
    inAh: 0,
    outAh: 0,
  })).filter((day) => day.to > day.from);
  for (const period of periods) {
    for (const day of days) {
      const share = (Math.min(period.end, day.to) - Math.max(period.start, day.from)) / (period.end - period.start);
      if (!(share > 0)) continue;
      day.inAh += share * period.chargeInAh;
      day.outAh += share * period.chargeOutAh;
    }
  }
  return { days, each };
}

function runningSum(days: readonly DayCharge[], start: number) {
  const points = [{ t: start, sumAh: 0 }];
  for (const day of days) points.push({ t: day.to, sumAh: lastOf(points).sumAh + day.inAh - day.outAh });
  return points;
}
