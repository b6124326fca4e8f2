/** One value with its uncertainty beside its limit, on one axis: small enough to stand in every finding. */
import { decide } from '../battery/uncertainty.ts';
import type { Finding } from '../checks/check.ts';
import { checkOf } from '../checks/registry.ts';
import { type Draft, rows, tickAxis, topLevel } from './chart.ts';
import { textWidthPx } from './drawing/font-widths.ts';
import { pxAlong } from './drawing/labels.ts';
import { limitWords, quantityPm, quantityRange, rounded, shownAs, tickLabels } from './drawing/numbers.ts';
import { AXIS, BLUE, INK, PALE, TEXT_PX } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import type { Words } from './drawing/words.ts';

/** px: as wide as a narrow phone shows it, so that its words are as large there as on paper. */
const LIMIT_AXIS_WIDTH = 340;
const PADDING = { left: 14, right: 70, top: 2, bottom: 22 };
const PLOT_PX = LIMIT_AXIS_WIDTH - PADDING.left - PADDING.right;
const TEXT_DX = 6;

/** Null where the finding has no value or no limit, they are in different units, or the picture would mislead. */
export function limitAxis(finding: Finding, words: Words): Draft | null {
  const { measured, limit } = finding;
  const check = checkOf(finding.check);
  if (isRaisedForElse(finding)) return null;
  if (!measured || !limit || measured.unit !== limit.unit || check?.scale === 'chance') return null;
  if (!Number.isFinite(measured.value) || !Number.isFinite(limit.value)) return null;
  const U = measured.uncertainty !== null && Number.isFinite(measured.uncertainty) ? measured.uncertainty : 0;
  // A share lies between nothing and the whole, and so does the bar that is drawn.
  const isShare = limit.unit === '1' && measured.value <= 1 && limit.value <= 1;
  const [least, most] = isShare ? [0, 1] : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const [barLow, barHigh] = [Math.max(measured.value - U, least), Math.min(measured.value + U, most)];
  const [low, high] = [Math.min(barLow, limit.value), Math.max(barHigh, limit.value)];
  // Amounts that start at nothing are shown from nothing; voltages and temperatures are not.
  const fromZero = limit.unit !== 'V' && limit.unit !== '°C' && low >= 0;
  const margin = 0.2 * (high - (fromZero ? 0 : low)) || Math.abs(high) * 0.1 || 1;
  const shown = shownAs(limit.unit, Math.max(Math.abs(low), Math.abs(high)), words);
  const show = (value: number) => rounded(value * shown.factor);
  const axis = niceTicks(show(fromZero ? 0 : low - margin), show(Math.min(high + margin, most)), 4);
  const x = {
    field: 'x',
    type: 'quantitative',
    scale: { domain: axis.domain, nice: false },
    axis: {
      ...tickAxis({ values: axis.values, labels: labelsOf(axis.values, shown.unit, words) }),
      title: null,
      grid: false,
      domain: true,
      domainColor: AXIS,
      ticks: true,
      tickColor: AXIS,
    },
  };
  const side = check?.side ?? null;
  // Shaded where a value is at fault.
  const bad = side === 'max' ? [show(limit.value), axis.domain[1]] : [axis.domain[0], show(limit.value)];
  const value = { x: show(measured.value), lo: show(barLow), hi: show(barHigh) };
  const [valueText, limitText] = [
    check?.asRange
      ? quantityRange(barLow, barHigh, measured.unit, words)
      : quantityPm(measured.value, measured.uncertainty, measured.unit, words),
    limitWords(limit.value, limit.unit, words).join(' '),
  ];
  // Words stand away from each other, unless that would take them off the axis.
  const px = (at: number) => pxAlong(at, axis.domain, PLOT_PX);
  const toLeft = (wish: boolean, from: number, to: number, label: string, weight: number) => {
    const needPx = textWidthPx(label, TEXT_PX, weight) + TEXT_DX;
    const [left, right] = [px(from) + PADDING.left, PLOT_PX + PADDING.right - px(to)];
    return wish ? left >= needPx || left > right : right < needPx && left > right;
  };
  const isBelow = value.x < show(limit.value);
  const valueLeft = toLeft(isBelow, value.lo, value.hi, valueText, 600);
  const limitLeft = toLeft(!isBelow, show(limit.value), show(limit.value), limitText, 400);
  const text = (at: number, label: string, left: boolean, yPx: number, weight: number) => ({
    data: rows([{ x: at, label }]),
    mark: { type: 'text', align: left ? 'right' : 'left', dx: left ? -TEXT_DX : TEXT_DX, fontWeight: weight },
    encoding: { x, y: { value: yPx }, text: { field: 'label' } },
  });
  const layer = [
    ...(side
      ? [
          {
            data: rows([{ x: bad[0], to: bad[1] }]),
            mark: { type: 'rect', color: PALE },
            encoding: { x, x2: { field: 'to' } },
          },
        ]
      : []),
    {
      data: rows([{ x: show(limit.value) }]),
      mark: { type: 'rule', color: INK, strokeWidth: 1.2, strokeDash: [5, 3] },
      encoding: { x },
    },
    text(show(limit.value), limitText, limitLeft, 7, 400),
    {
      data: rows([{ ...value, x: value.lo }]),
      mark: { type: 'rule', color: BLUE, strokeWidth: 2 },
      encoding: { x, x2: { field: 'hi' }, y: { value: 24 } },
    },
    {
      data: rows([value]),
      mark: { type: 'point', shape: 'circle', filled: true, size: 80, color: BLUE, opacity: 1 },
      encoding: { x, y: { value: 24 } },
    },
    text(valueLeft ? value.lo : value.hi, valueText, valueLeft, 24, 600),
  ];
  return {
    name: `limit-${finding.check}`,
    check: finding.check,
    title: `${valueText}, ${limitText}`,
    spec: topLevel(finding.check, {
      autosize: 'none',
      padding: PADDING,
      width: PLOT_PX,
      height: 34,
      layer,
    }),
    widthPx: LIMIT_AXIS_WIDTH,
    altFacts: { value: measured.value, uncertainty: measured.uncertainty, limit: limit.value, unit: limit.unit },
  };
}

/** What is raised although its value keeps the limit has another reason, and the axis would show it to be in order. */
function isRaisedForElse({ check, status, measured, limit }: Finding): boolean {
  const side = checkOf(check)?.side;
  if (!side || !measured || !limit || (status !== 'fault' && status !== 'watch')) return false;
  return decide({ value: measured.value, U: measured.uncertainty ?? 0, limit: limit.value, side }) === 'within';
}

/** The last tick carries the unit. */
function labelsOf(values: readonly number[], unit: string, words: Words): readonly string[] {
  return tickLabels(values, words).map((label, k) => (k === values.length - 1 ? `${label}\u00a0${unit}` : label));
}
