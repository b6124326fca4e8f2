/** What the page's script draws from, as JSON, and the script itself. */
import { base64, hashOf } from '../../base/bytes.ts';
import { lastOf } from '../../base/there.ts';
import { zoneOf } from '../../base/zone.ts';
import { INRUSH_S } from '../../battery/cranking.ts';
import type { Moment } from '../../charts/drawing/moments.ts';
import type { Report } from '../contract/report.ts';
import type { Content } from '../words/content.ts';
import type { Format } from '../words/format.ts';
import type { Points, Series } from './series.ts';

/** Moments of each kind in the list to choose from. */
const MOST_EVENTS = 40;
const OF_EVENT: Readonly<Record<string, string>> = {
  'failed-start': 'explore.failed-start',
  'long-start': 'explore.long-start',
  'heavy-load': 'explore.heavy-load',
};
const NONE = { sums: null, circuits: [], shares: null, linearA: 0.002 };
/** They follow each other in the page's one script. */
const SCRIPTS = ['explore-log', 'explore-plot', 'explore', 'fold'];

export function pageScript(content: Pick<Content, 'template'>): string {
  return SCRIPTS.map((name) => content.template(`scripts/${name}.js`)).join('\n');
}

/** The data of the page as JSON for a `<script type="application/json">`: nothing in it can end that element. */
export function exploreJson(
  report: Report,
  series: Series,
  moments: readonly Moment[],
  content: Content,
  format: Format,
): string {
  const startS = Date.parse(report.log.start) / 1000;
  const from = (iso: string) => Number((Date.parse(iso) / 1000 - startS).toFixed(1));
  const seconds = from(report.log.end);
  const quantity = (points: Points | null, role: string, unit: string, decimals: number) =>
    points && points.t.length > 0 ? [{ label: content.label(`role.${role}`), unit, decimals, ...points }] : [];
  const event = (key: string, iso: string, lengthS: number): [number, number, string] => {
    return [from(iso), from(iso) + lengthS, `${content.label(key)}, ${format.moment(Date.parse(iso) / 1000)}`];
  };
  const { sums, circuits, shares, linearA } = { ...NONE, ...series };
  const known = (value: number | null) => (value === null ? null : Number(value.toFixed(3)));
  const data = {
    // What a saved picture is called.
    name: report.session.id,
    locale: content.locale,
    start: startS,
    seconds,
    offsets: offsetsOf(report.session.timezone, startS, seconds),
    linear_a: linearA,
    inrush_s: INRUSH_S,
    words: {
      before: content.label('tables.before'),
      lowest: content.label('tables.lowest'),
      plateau: content.label('tables.plateau'),
      periods: content.label('explore.periods'),
      circuits: content.label('explore.circuits'),
      charge: content.label('explore.charge_since'),
      notes: content.label('fitting.notes'),
      asleep: content.label('period.asleep'),
      awake: content.label('explore.awake_parked'),
      draw: content.label('explore.draw'),
      show: content.label('explore.show'),
      more: content.label('findings.more'),
    },
    series: [
      ...quantity(series.voltage, 'voltage', 'V', 2),
      ...quantity(series.current, 'current', 'A', 2),
      ...quantity(series.temperature, 'temperature', '°C', 1),
    ],
    sums,
    circuits,
    shares,
    notes: moments.map(({ atMs, number }) => [Number((atMs / 1000 - startS).toFixed(1)), number]),
    periods: report.periods.map(({ kind, start, end }) => [
      from(start),
      from(end),
      content.label(`period.${kind}`),
      kind,
    ]),
    cranks: report.cranks.map((crank) => [
      Number((Date.parse(crank.at) / 1000 - startS).toFixed(3)),
      crank.seconds,
      known(crank.volts_before),
      known(crank.volts_min),
      known(crank.volts_cranking),
    ]),
    events: [
      [0, seconds, content.label('explore.whole')],
      ...report.parked
        .slice(0, MOST_EVENTS)
        .map((one) => event('explore.stand', one.start, from(one.end) - from(one.start))),
      ...report.cranks.slice(0, MOST_EVENTS).map((one) => event('explore.crank', one.at, one.seconds)),
      ...(report.events ?? [])
        .slice(0, MOST_EVENTS)
        .map((one) => event(OF_EVENT[one.kind] ?? 'explore.heavy-load', one.start, one.seconds)),
      ...report.wakes.slice(0, MOST_EVENTS).map((one) => event('explore.wake', one.start, one.seconds)),
    ],
  };
  return JSON.stringify(data).replaceAll(
    /[<>&\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** [s since the epoch, offset from UTC in s] at the log's start and at every change of the clock within it, to the quarter hour. */
function offsetsOf(timezone: string, startS: number, seconds: number): [number, number][] {
  const zone = zoneOf(timezone);
  const offset = (s: number) => zone.offsetMs(s * 1000) / 1000;
  const offsets: [number, number][] = [[startS, offset(startS)]];
  for (let s = Math.ceil(startS / 900) * 900; s <= startS + seconds; s += 900) {
    if (offset(s) !== lastOf(offsets)[1]) offsets.push([s, offset(s)]);
  }
  return offsets;
}

/** What the page may do: its own styles, fonts and pictures, and the one script whose text has this hash. Nothing from outside. */
export function contentPolicy(script: string | null, styleFile = false): string {
  const hash = script === null ? "'none'" : `'sha256-${base64(hashOf(script))}'`;
  const style = `'unsafe-inline'${styleFile ? " 'self' file:" : ''}`;
  return `default-src 'none'; style-src ${style}; font-src data:; img-src data:; script-src ${hash}`;
}
