/** State of charge that each rested voltage shows, with its uncertainty; the voltages that belong to the scale beside it. */
import { lastOf } from '../base/there.ts';
import { restVoltageV } from '../battery/rest-voltage.ts';
import type { Finding } from '../checks/check.ts';
import { restedCharges } from '../measures/rested-charge.ts';
import { type Draft, findingOf, limitLine, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { textWidthPx } from './drawing/font-widths.ts';
import { pxAlong, withRoom } from './drawing/labels.ts';
import { fixed, rounded } from './drawing/numbers.ts';
import { BLUE, GREY, PLOT, TEXT_PX } from './drawing/theme.ts';

export const name = 'resting-charge';
/** Height of a line of words on the axis, which reaches so far that they have room above a full battery. */
const WORDS_PERCENT = 11;
const TOP_PERCENT = 112;
const QUARTERS = [0, 0.25, 0.5, 0.75, 1];

export function restingCharge(subject: Subject): Draft | null {
  const { analysis, session, findings, words, clock } = subject;
  const { charges } = restedCharges(analysis, session);
  if (charges.length === 0) return null;
  const limit = findingOf(findings, 'resting-charge')?.limit;
  const percent = (share: number) => rounded(share * 100);
  const x = timeX(subject, analysis.start, analysis.end);
  const domainX: readonly [number, number] = [clock.x(analysis.start), clock.x(analysis.end)];
  const y = (field: string) =>
    valueY(field, { values: QUARTERS.map(percent), labels: QUARTERS.map((share) => `${percent(share)}\u00a0%`) }, [
      0,
      TOP_PERCENT,
    ]);
  const points = charges.map(({ rest, value, U }) => ({
    t: clock.x(rest.at),
    y: percent(value),
    lo: percent(Math.max(0, value - U)),
    hi: percent(Math.min(1, value + U)),
    label: `${fixed(rest.volts.value, 2, words)}\u00a0V`,
  }));
  // Centred on the point, but within the plot; newest first, since those matter most.
  const placed = points.map((point) => {
    const half = textWidthPx(point.label, TEXT_PX) / 2 + 4;
    const px = Math.min(Math.max(pxAlong(point.t, domainX, PLOT), half), PLOT - half);
    return {
      ...point,
      px,
      t: domainX[0] + (px / PLOT) * (domainX[1] - domainX[0]),
      isAbove: hasRoomAbove(point.hi, limit),
    };
  });
  const labels = withRoom([...placed].reverse(), ({ px }) => px);
  const scale = QUARTERS.filter((share) => Math.abs(share - (limit?.value ?? -1)) > 0.1).map((share) => ({
    y: percent(share),
    label: `${fixed(restVoltageV(session.battery.chemistry, session.vehicle.systemV, share), 2, words)}\u00a0V`,
  }));
  const layer = [
    {
      data: rows(scale),
      mark: { type: 'text', align: 'left', dx: 6, color: GREY },
      encoding: { x: { value: PLOT }, y: y('y'), text: { field: 'label' } },
    },
    ...(limit
      ? limitLine(y('y'), percent(limit.value), [words.say('mark.limit'), `${percent(limit.value)}\u00a0%`])
      : []),
    { mark: { type: 'rule', color: BLUE, strokeWidth: 1.5 }, encoding: { x, y: y('lo'), y2: { field: 'hi' } } },
    {
      mark: { type: 'point', shape: 'circle', filled: true, size: 70, color: BLUE, opacity: 1 },
      encoding: { x, y: y('y') },
    },
    ...[true, false].map((isAbove) => ({
      data: rows(labels.filter((label) => label.isAbove === isAbove)),
      mark: { type: 'text', baseline: isAbove ? 'bottom' : 'top', dy: isAbove ? -3 : 3 },
      encoding: { x, y: y(isAbove ? 'hi' : 'lo'), text: { field: 'label' } },
    })),
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'resting-charge',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.charge_state'),
        note: words.say('note.resting-charge'),
        height: 170,
        data: rows(points),
        layer,
      }),
    ),
    altFacts: {
      rests: charges.length,
      lastCharge: lastOf(charges).value,
      lastV: lastOf(charges).rest.volts.value,
      limitCharge: limit?.value ?? null,
    },
  };
}

/** Whether the words above a bar that ends at `hi` (%) stay within the plot and off the limit's line. */
function hasRoomAbove(hi: number, limit: Finding['limit'] | undefined): boolean {
  const top = hi + WORDS_PERCENT;
  return top <= TOP_PERCENT && !(limit && limit.value * 100 >= hi && limit.value * 100 <= top);
}
