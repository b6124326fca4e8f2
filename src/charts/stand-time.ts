/** Charge left against days standing: a wedge, since draw, charge and loss are each known within a range only. */
import {
  type Draft,
  factOf,
  findingOf,
  limitUpright,
  panel,
  rows,
  type Subject,
  topLevel,
  valueX,
  valueY,
} from './chart.ts';
import { textWidthPx } from './font-widths.ts';
import { fixed, quantity, rounded, tickLabels } from './numbers.ts';
import { BLUE, BLUE_PALE, GREY, ORANGE_PALE, PLOT, TEXT_PX } from './theme.ts';
import { niceTicks } from './ticks.ts';

export const name = 'stand-time';
const DAY_S = 86_400;
const MOST_DAYS = 366;
/** Between a drop line and its words. */
const LABEL_DX = 4;

export function standTime({ findings, words }: Subject): Draft | null {
  const finding = findingOf(findings, 'stand-time');
  const fact = (key: string) => factOf(finding, key);
  const [lowS, charge, capacityAh] = [fact('lowS'), fact('charge'), fact('capacityAh')];
  const [loseLowAh, loseHighAh] = [fact('toLoseLowAh'), fact('toLoseHighAh')];
  if (lowS === null || charge === null || capacityAh === null || loseLowAh === null || loseHighAh === null) return null;

  // Endless where nothing is drawn at the low end of the range: its edge then stays level.
  const [lowDays, highDays] = [lowS / DAY_S, (fact('highS') ?? Number.POSITIVE_INFINITY) / DAY_S];
  const chargeU = fact('chargeU') ?? 0;
  const least = { startAh: capacityAh * Math.max(0, charge - chargeU), rateAh: loseLowAh / lowDays, noStartAh: 0 };
  const most = { startAh: capacityAh * Math.min(1, charge + chargeU), rateAh: loseHighAh / highDays, noStartAh: 0 };
  least.noStartAh = least.startAh - loseLowAh;
  most.noStartAh = most.startAh - loseHighAh;
  const limitDays = finding?.limit ? finding.limit.value / DAY_S : null;
  const lastDays = Number.isFinite(highDays) ? highDays : 3 * lowDays;
  const spanDays = Math.min(Math.max(1.15 * lastDays, 1.25 * (limitDays ?? 0)), MOST_DAYS);

  const yTicks = niceTicks(0, most.startAh, 5);
  const xTicks = niceTicks(0, spanDays, 8).values.filter((day) => day <= spanDays);
  const y = (field: string) =>
    valueY(field, { values: yTicks.values, labels: tickLabels(yTicks.values, words) }, yTicks.domain);
  const x = valueX(
    't',
    { values: xTicks, labels: tickLabels(xTicks, words) },
    [0, rounded(spanDays)],
    words.say('axis.days_standing'),
  );
  const noStart = [Math.min(least.noStartAh, most.noStartAh), Math.max(least.noStartAh, most.noStartAh)];
  // Corners of the wedge: each edge is straight until it meets the axis.
  const corners = [0, spanDays, least.startAh / least.rateAh, most.startAh / most.rateAh]
    .filter((day) => day >= 0 && day <= spanDays)
    .sort((a, b) => a - b);
  const edge = (of: typeof least, day: number) => rounded(Math.max(0, of.startAh - of.rateAh * day));
  const daysText = (days: number) => fixed(days, days < 10 ? 1 : 0, words);
  const px = (days: number) => (days / spanDays) * PLOT;
  const hasRoom = (label: string, days: number) => px(days) > textWidthPx(label, TEXT_PX, 600) + LABEL_DX;
  const soonest = words.say('mark.soonest', { days: daysText(lowDays) });
  const latest = words.say('mark.latest', { days: daysText(highDays) });
  const meets = [
    { days: lowDays, ah: least.noStartAh, label: soonest, left: hasRoom(soonest, lowDays), up: 22 },
    { days: highDays, ah: most.noStartAh, label: latest, left: hasRoom(latest, highDays - lowDays), up: 6 },
  ]
    .filter(({ days }) => days <= spanDays)
    .map(({ days, ah, ...words }) => ({ t: rounded(days), y: rounded(ah), ...words }));
  const layer = [
    // Deeper where even the longer end of the range expects no start.
    {
      data: rows(noStart.map((ah) => ({ y: 0, to: rounded(ah) }))),
      mark: { type: 'rect', color: ORANGE_PALE, opacity: 0.4 },
      encoding: { y: y('y'), y2: { field: 'to' } },
    },
    {
      data: rows([{ y: rounded(noStart[1]), label: words.say('mark.no_start').split('\n') }]),
      mark: { type: 'text', align: 'left', baseline: 'top', dx: 6, dy: 2, lineHeight: 13, fontWeight: 600 },
      encoding: { x: { value: PLOT }, y: y('y'), text: { field: 'label' } },
    },
    {
      data: rows(corners.map((day) => ({ t: rounded(day), lo: edge(least, day), hi: edge(most, day) }))),
      mark: { type: 'area', color: BLUE_PALE, opacity: 0.8, line: false },
      encoding: { x, y: y('lo'), y2: { field: 'hi' } },
    },
    ...['lo', 'hi'].map((field) => ({
      data: rows(corners.map((day) => ({ t: rounded(day), [field]: edge(field === 'lo' ? least : most, day) }))),
      mark: { type: 'line', color: BLUE, strokeWidth: 1.5 },
      encoding: { x, y: y(field) },
    })),
    {
      data: rows(meets.map(({ t, y }) => ({ t, y }))),
      mark: { type: 'rule', color: GREY, strokeWidth: 1, strokeDash: [1, 2] },
      encoding: { x, y: y('y'), y2: { value: 200 } },
    },
    {
      data: rows(meets.map(({ t, y }) => ({ t, y }))),
      mark: { type: 'point', shape: 'circle', filled: true, size: 50, color: BLUE, opacity: 1 },
      encoding: { x, y: y('y') },
    },
    ...meets.map((meet) => ({
      data: rows([{ t: meet.t, label: meet.label }]),
      mark: {
        type: 'text',
        align: meet.left ? 'right' : 'left',
        baseline: 'bottom',
        dx: meet.left ? -LABEL_DX : LABEL_DX,
        dy: -meet.up,
        fontWeight: 600,
      },
      encoding: { x, y: { value: 200 }, text: { field: 'label' } },
    })),
    ...(limitDays !== null && finding?.limit
      ? limitUpright(x, rounded(limitDays), `${words.say('mark.limit')} ${quantity(finding.limit.value, 's', words)}`)
      : []),
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'stand-time',
    title,
    spec: topLevel(
      title,
      panel({ title: words.say('axis.charge_left'), note: words.say('note.stand-time'), height: 200, layer }),
    ),
    altFacts: {
      lowS,
      highS: Number.isFinite(highDays) ? highDays * DAY_S : null,
      charge,
      capacityAh,
      drawA: fact('drawA'),
      limitS: finding?.limit?.value ?? null,
    },
  };
}
