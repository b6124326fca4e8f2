/** Rows of a simulated log as text, in the ways that loggers and their export programs write them. */

import { zoneOf } from '../base/zone.ts';
import type { SampleBlock } from '../log/block.ts';

/** `pattern` styles are wall-clock times in the zone; `iso` carries its offset, `iso-local` does not. */
export type TimeStyle =
  | 'iso'
  | 'iso-local'
  | 'epoch-s'
  | 'epoch-ms'
  | 'elapsed-s'
  | 'DD.MM.YYYY HH:mm:ss,SSS'
  | 'DD/MM/YYYY HH:mm:ss.SSS'
  | 'MM/DD/YYYY HH:mm:ss.SSS';

export interface LogStyle {
  readonly time: TimeStyle;
  /** IANA name. */
  readonly timezone: string;
  readonly delimiter: ',' | ';' | '\t';
  readonly decimal: '.' | ',';
  readonly currentUnit: 'A' | 'mA';
  readonly voltageUnit: 'V' | 'mV';
  /** Digits after the decimal sign. */
  readonly digits: { readonly v: number; readonly i: number; readonly temp: number };
  /** Whether charging is written as positive. */
  readonly positive: 'charging' | 'discharging';
  readonly lineEnd: '\n' | '\r\n';
  /** Lines before the header row, as some programs write them. */
  readonly preamble: readonly string[];
  readonly split: 'one' | 'daily';
  readonly gzip: boolean;
}

export const PLAIN_STYLE: LogStyle = {
  time: 'iso-local',
  timezone: 'UTC',
  delimiter: ',',
  decimal: '.',
  currentUnit: 'A',
  voltageUnit: 'V',
  digits: { v: 3, i: 3, temp: 1 },
  positive: 'charging',
  lineEnd: '\n',
  preamble: [],
  split: 'daily',
  gzip: false,
};

/** As an export program set to German writes. */
export const GERMAN_STYLE: LogStyle = {
  ...PLAIN_STYLE,
  time: 'DD.MM.YYYY HH:mm:ss,SSS',
  timezone: 'Europe/Berlin',
  delimiter: ';',
  decimal: ',',
  lineEnd: '\r\n',
};

export interface Columns {
  readonly current: boolean;
  readonly temperature: boolean;
  readonly channels: number;
}

export function headerText(style: LogStyle, columns: Columns): string {
  const names = ['time', `battery_${style.voltageUnit}`];
  if (columns.current) names.push(`battery_${style.currentUnit}`);
  if (columns.temperature) names.push('temp_c');
  for (let k = 0; k < columns.channels; k++) names.push(`in${k + 1}_v`);
  return [...style.preamble, names.join(style.delimiter), ''].join(style.lineEnd);
}

/** Writes the rows of one block; `start` (s since the epoch) is the zero of elapsed time. */
export function makeRowWriter(style: LogStyle, columns: Columns, start: number) {
  const time = timeWriter(style, start);
  const scaleI = (style.currentUnit === 'mA' ? 1000 : 1) * (style.positive === 'charging' ? 1 : -1);
  const scaleV = style.voltageUnit === 'mV' ? 1000 : 1;
  const { v: digitsV, i: digitsI, temp: digitsC } = style.digits;
  const number = (value: number, digits: number): string => {
    if (Number.isNaN(value)) return '';
    const text = value.toFixed(digits);
    return style.decimal === ',' ? text.replace('.', ',') : text;
  };
  return (block: SampleBlock, from: number, to: number): string => {
    const { delimiter, lineEnd } = style;
    let text = '';
    for (let k = from; k < to; k++) {
      text += time(block.t[k]) + delimiter + number(block.v[k] * scaleV, digitsV);
      if (columns.current) text += delimiter + number(block.i[k] * scaleI, digitsI);
      if (columns.temperature) text += delimiter + number(block.temp[k], digitsC);
      for (const channel of block.ch) text += delimiter + number(channel[k], digitsV);
      text += lineEnd;
    }
    return text;
  };
}

/** Day of a time in the style's zone as `YYYY-MM-DD`, for the names of daily files. */
export function dayOf(t: number, timezone: string): string {
  return new Date(t * 1000 + zoneOf(timezone).offsetMs(t * 1000)).toISOString().slice(0, 10);
}

function timeWriter(style: LogStyle, start: number): (t: number) => string {
  const zone = zoneOf(style.timezone);
  const local = (t: number) => {
    const ms = Math.round(t * 1000);
    return new Date(ms + zone.offsetMs(ms)).toISOString();
  };
  const dayFirst = (t: number, mark: string, point: string) => {
    const iso = local(t);
    const day = [iso.slice(8, 10), iso.slice(5, 7), iso.slice(0, 4)].join(mark);
    return `${day} ${iso.slice(11, 19)}${point}${iso.slice(20, 23)}`;
  };
  switch (style.time) {
    case 'iso':
      return (t) => local(t).replace('Z', offsetText(zone.offsetMs(t * 1000)));
    case 'iso-local':
      return (t) => local(t).slice(0, 23);
    case 'epoch-s':
      return (t) => t.toFixed(3);
    case 'epoch-ms':
      return (t) => (t * 1000).toFixed(0);
    case 'elapsed-s':
      return (t) => (t - start).toFixed(3);
    case 'DD.MM.YYYY HH:mm:ss,SSS':
      return (t) => dayFirst(t, '.', ',');
    case 'DD/MM/YYYY HH:mm:ss.SSS':
      return (t) => dayFirst(t, '/', '.');
    case 'MM/DD/YYYY HH:mm:ss.SSS':
      return (t) => dayFirst(t, '/', '.').replace(/^(..)\/(..)/, '$2/$1');
  }
}

function offsetText(ms: number): string {
  const minutes = Math.abs(ms) / 60_000;
  const two = (value: number) => String(value).padStart(2, '0');
  return `${ms < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}
