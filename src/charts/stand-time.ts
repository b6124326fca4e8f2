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
import { textWidthPx } from './drawing/font-widths.ts';
import { fixed, limitWords, numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, BLUE_PALE, GREY, ORANGE_PALE, PLOT, TEXT_PX } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'stand-time';
const DAY_S = 86_400;
const MOST_DAYS = 366;
/** px between a dot and its words, and between two lines of words. */
const GAP_PX = 7;
const LINE_PX = 15;
const HEIGHT_PX = 200;

export function standTime({ findings, words }: Subject): Draft | null {
  const finding = findingOf(findings, 'stand-time');
  const fact = (key: string) => factOf(finding, key);
  const [lowS, charge, capacityAh] = [fact('lowS'), fact('charge'), fact('capacityAh')];
  const [loseLowAh, loseHighAh] = [fact('toLoseLowAh'), fact('toLoseHighAh')];
  if (lowS === null || charge === null || capacityAh === null || loseLowAh === null || loseHighAh === null) return null;
  // From a battery that may be empty there is no wedge.
  if (lowS === 0) return null;

  // Endless where nothing is drawn at the low end of the range: its edge then stays level.
  const [lowDays, highDays] = [lowS / DAY_S, (fact('highS') ?? Number.POSITIVE_INFINITY) / DAY_S];
  const chargeU = fact('chargeU') ?? 0;
  const least = { startAh: capacityAh * Math.max(0, charge - chargeU), rateAh: loseLowAh / lowDays, noStartAh: 0 };
  const most = { startAh: capacityAh * Math.min(1, charge + chargeU), rateAh: loseHighAh / highDays, noStartAh: 0 };
  least.noStartAh = least.startAh - loseLowAh;
  most.noStartAh = most.startAh - loseHighAh;
  const limitDays = finding?.limit ? finding.limit.value / DAY_S : null;
  const lastDays = Number.isFinite(highDays) ? highDays : 3 * lowDays;
  const spanDays = Math.min(Math.max(1.25 * lastDays, 1.25 * (limitDays ?? 0)), MOST_DAYS);

  const yTicks = niceTicks(0, most.startAh, 5);
  const xTicks = niceTicks(0, spanDays, 8).values.filter((day) => day <= spanDays);
  const y = (field: string) => valueY(field, numberTicks(yTicks.values, words), yTicks.domain);
  const x = valueX('t', numberTicks(xTicks, words), [0, rounded(spanDays)], words.say('axis.days_standing'));
  const noStart = [Math.min(least.noStartAh, most.noStartAh), Math.max(least.noStartAh, most.noStartAh)] as const;
  // Corners of the wedge: each edge is straight until it meets the axis.
  const corners = [0, spanDays, least.startAh / least.rateAh, most.startAh / most.rateAh]
    .filter((day) => day >= 0 && day <= spanDays)
    .sort((a, b) => a - b);
  const edge = (of: typeof least, day: number) => rounded(Math.max(0, of.startAh - of.rateAh * day));
  const daysText = (days: number) => fixed(days, days < 10 ? 1 : 0, words);
  const meets = [
    { days: lowDays, ah: least.noStartAh, label: words.say('mark.soonest', { days: daysText(lowDays) }) },
    { days: highDays, ah: most.noStartAh, label: words.say('mark.latest', { days: daysText(highDays) }) },
  ]
    .filter(({ days }) => days <= spanDays)
    .map(({ days, ah, label }) => ({ t: rounded(days), y: rounded(ah), label }));
  const px = (days: number) => (days / spanDays) * PLOT;
  // The lower edge of the wedge, where it is a line of words above the ground.
  const lineAh = (LINE_PX / HEIGHT_PX) * yTicks.domain[1];
  const said = labelsOf(meets, px, limitDays, px((least.startAh - lineAh) / least.rateAh));
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
      encoding: { x, y: y('y'), y2: { value: HEIGHT_PX } },
    },
    {
      data: rows(meets.map(({ t, y }) => ({ t, y }))),
      mark: { type: 'point', shape: 'circle', filled: true, size: 50, color: BLUE, opacity: 1 },
      encoding: { x, y: y('y') },
    },
    ...said.map(({ px, y: ah, up, align, label }) => ({
      data: rows([{ y: ah, label }]),
      mark: { type: 'text', align, baseline: align === 'right' ? 'top' : 'bottom', dy: -up, fontWeight: 600 },
      encoding: { x: { value: px }, y: y('y'), text: { field: 'label' } },
    })),
    ...(limitDays !== null && finding?.limit
      ? limitUpright(x, rounded(limitDays), limitWords(finding.limit.value, 's', words).join(' '))
      : []),
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'stand-time',
    title,
    spec: topLevel(
      title,
      panel({ title: words.say('axis.charge_left'), note: words.say('note.stand-time'), height: HEIGHT_PX, layer }),
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

interface Meet {
  /** Days. */
  readonly t: number;
  /** Ah. */
  readonly y: number;
  readonly label: string;
}

interface Said {
  readonly px: number;
  /** Ah, and px above it. */
  readonly y: number;
  readonly up: number;
  readonly align: 'left' | 'right';
  readonly label: string;
}

/**
 * The wedge falls to the right: below its lower edge there is room to the left of the first dot, or on the ground to the right
 * of it up to `endPx`; above its upper edge there is room to the right of the second, where the first one's words stand too if
 * there is none for them elsewhere.
 */
function labelsOf(
  meets: readonly Meet[],
  pxOf: (days: number) => number,
  limitDays: number | null,
  endPx: number,
): Said[] {
  const [soonest, latest] = meets;
  if (!soonest) return [];
  const limitPx = limitDays === null ? Number.NaN : pxOf(limitDays);
  const width = (label: string) => textWidthPx(label, TEXT_PX, 600);
  const isCrossed = (from: number, to: number) => limitPx > from - GAP_PX && limitPx < to + GAP_PX;
  const [first, second] = [pxOf(soonest.t), latest ? pxOf(latest.t) : PLOT];
  const need = width(soonest.label) + GAP_PX;
  const left = { px: first - GAP_PX, y: soonest.y, up: -3, align: 'right', label: soonest.label } as const;
  const ground = { px: first + GAP_PX, y: 0, up: 4, align: 'left', label: soonest.label } as const;
  const isLeft = first - need >= 0 && !isCrossed(first - need, first - GAP_PX);
  const isGround = first + need + GAP_PX <= Math.min(second, endPx) && !isCrossed(first + GAP_PX, first + need);
  if (!latest) return [isGround && !isLeft ? ground : left];
  const isOver = !isLeft && !isGround;
  const widest = Math.max(width(latest.label), isOver ? width(soonest.label) : 0);
  const px = isCrossed(second + GAP_PX, second + GAP_PX + widest) ? limitPx + GAP_PX : second + GAP_PX;
  const right = { px, y: latest.y, up: 3, align: 'left', label: latest.label } as const;
  const over = { ...right, up: 3 + LINE_PX, label: soonest.label };
  return [isOver ? over : isLeft ? left : ground, right];
}
