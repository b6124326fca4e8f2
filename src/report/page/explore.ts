/** What the page's script draws from: the log in some thousands of columns, its periods, and moments worth a look. */
import type { Analysis } from '../../analysis/model.ts';
import { base64, hashOf } from '../../base/bytes.ts';
import { lastOf } from '../../base/there.ts';
import { zoneOf } from '../../base/zone.ts';
import { LEFT, RIGHT } from '../../charts/drawing/theme.ts';
import { bandPoints, type ColumnsOf, tilesToColumns } from '../../charts/drawing/tiles-to-columns.ts';
import type { Report } from '../contract/report.ts';
import type { Content } from '../words/content.ts';
import type { Format } from '../words/format.ts';

/** One quantity: points in time order, null where a gap parts them. `t` is s from the log's start. */
interface Points {
  readonly t: readonly number[];
  readonly lo: readonly (number | null)[];
  readonly hi: readonly (number | null)[];
  readonly y: readonly (number | null)[];
}

export interface Series {
  readonly voltage: Points;
  readonly current: Points | null;
  readonly temperature: Points | null;
}

/** Keeps a page of the longest log well under 1 MB more: about 30 bytes a column and quantity. */
const COLUMNS = 4000;
/** Moments of each kind in the list to choose from. */
const MOST_EVENTS = 40;

export function seriesOf({ tiles, has, start, end }: Analysis): Series {
  const points = (columns: ColumnsOf, digits: number): Points => {
    const round = (value: number) => Number(value.toFixed(digits));
    const band = bandPoints(tilesToColumns(tiles, columns, start, end, COLUMNS), (s) => s - start, round);
    return {
      t: band.map(({ t }) => Number(t.toFixed(1))),
      lo: band.map(({ lo }) => lo),
      hi: band.map(({ hi }) => hi),
      y: band.map(({ y }) => y),
    };
  };
  return {
    voltage: points({ mean: tiles.v, min: tiles.vMin, max: tiles.vMax }, 3),
    current: has.current ? points({ mean: tiles.i, min: tiles.iMin, max: tiles.iMax }, 3) : null,
    temperature: has.temperature ? points({ mean: tiles.temp, min: tiles.temp, max: tiles.temp }, 1) : null,
  };
}

/** The data of the page as JSON for a `<script type="application/json">`: nothing in it can end that element. */
export function exploreJson(report: Report, series: Series, content: Content, format: Format): string {
  const startS = Date.parse(report.log.start) / 1000;
  const from = (iso: string) => Number((Date.parse(iso) / 1000 - startS).toFixed(1));
  const seconds = from(report.log.end);
  const quantity = (points: Points | null, role: string, unit: string, decimals: number) =>
    points && points.t.length > 0 ? [{ label: content.label(`role.${role}`), unit, decimals, ...points }] : [];
  const event = (key: string, iso: string, lengthS: number): [number, number, string] => {
    return [from(iso), from(iso) + lengthS, `${content.label(key)}, ${format.moment(Date.parse(iso) / 1000)}`];
  };
  const data = {
    locale: content.locale,
    start: startS,
    seconds,
    // px at both sides of the plot in the picture of the whole log.
    plot: { left: LEFT, right: RIGHT },
    offsets: offsetsOf(report.session.timezone, startS, seconds),
    series: [
      ...quantity(series.voltage, 'voltage', 'V', 2),
      ...quantity(series.current, 'current', 'A', 2),
      ...quantity(series.temperature, 'temperature', '°C', 1),
    ],
    periods: report.periods.map((period) => [from(period.start), content.label(`period.${period.kind}`)]),
    events: [
      [0, seconds, content.label('explore.whole')],
      ...report.parked
        .slice(0, MOST_EVENTS)
        .map((one) => event('explore.stand', one.start, from(one.end) - from(one.start))),
      ...report.cranks.slice(0, MOST_EVENTS).map((one) => event('explore.crank', one.at, one.seconds)),
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
