/** Which form a log's times have: what the manifest says, or what the first rows show beyond doubt; else the question. */
import { describe, expect, it } from 'vitest';
import { timeChoices, timeForm } from '../../../src/log/time/time-format.ts';
import type { LogSettings } from '../../../src/manifest/session.ts';
import { sessionWith } from '../helpers.ts';

type Format = NonNullable<LogSettings['columns']['time']>['format'];
const formOf = (times: readonly string[], format?: Format, log: Partial<LogSettings> = {}, name = 'time') =>
  timeForm(sessionWith({ log, columns: { time: { name, format } } }), { times });
const ISO = ['2026-03-03T17:40:12', '2026-03-03T17:40:13'];
const MS = ['1772559612000', '1772559613000'];

describe('found from the file', () => {
  it('ISO 8601, one pattern, and counts since 1970', () => {
    expect(formOf(ISO).how).toMatch(/ISO 8601, found/);
    expect(formOf(['13.03.2026 17:40:12']).how).toMatch(/DD\.MM\.YYYY HH:mm:ss, found/);
    expect(formOf(MS)).toMatchObject({ kind: 'number', scale: 3, startS: 0 });
  });

  it('asks where day and month may be either, and where it does not know from when it counts', () => {
    expect(() => formOf(['03/04/2026 17:40', '04/04/2026 17:40'])).toThrow(/day first or month first\?/);
    expect(() => formOf(['0.0', '0.1', '0.2'])).toThrow(/count from the start of the log\?/);
    expect(() => formOf(['17:40:12', '17:40:13'])).toThrow(/a time of day without its date/);
    expect(() => formOf(['40:12.5', '40:13.5'])).toThrow(/a spreadsheet has shortened them/);
  });
});

describe('as the manifest says', () => {
  it('elapsed times count from the start, which it must know', () => {
    expect(formOf(['0', '100'], 'elapsed-ms', { startMs: 5000 })).toMatchObject({ scale: 3, startS: 5 });
    expect(() => formOf(['0', '100'], 'elapsed-ms')).toThrow(/say when that was/);
  });

  it('is refused where it reads none of the cells, with what would', () => {
    expect(() => formOf(['13.03.2026 17:40:12'], 'iso')).toThrow(/iso reads none .* say "DD\.MM\.YYYY HH:mm:ss"/);
    expect(() => formOf(ISO, { pattern: 'DD.MM.YYYY HH:mm' })).toThrow(/say iso/);
    expect(() => formOf(ISO, 'epoch-s')).toThrow(/takes numbers.*say iso/);
    expect(() => formOf(MS, 'epoch-s')).toThrow(/Say epoch-ms/);
    expect(() => formOf(ISO, { pattern: 'DD.MM' })).toThrow(/is not a pattern for times/);
  });

  it('rows without times are a step apart', () => {
    expect(formOf([], undefined, { stepS: 10 }).how).toContain('a row each 10 s');
  });
});

it('a person may choose among what fits', () => {
  expect(timeChoices('time', { times: ['03/04/2026 17:40'] })).toEqual(['DD/MM/YYYY HH:mm', 'MM/DD/YYYY HH:mm']);
  expect(timeChoices('time', { times: MS })).toEqual(['epoch-ms']);
});
