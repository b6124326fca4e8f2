import { describe, expect, it } from 'vitest';
import { UserError } from '../../../src/base/problem.ts';
import type { TimeFormat } from '../../../src/manifest/session.ts';
import { fault, iso, kinds, read, START, sessionWith } from '../helpers.ts';

const VOLTAGE_ONLY = { current: undefined, temperature: undefined };

function log(times: readonly string[]): string {
  return `time;v\n${times.map((time, k) => `${time};12.${600 + k}\n`).join('')}`;
}

async function timesOf(times: readonly string[], format?: TimeFormat, timezone?: string): Promise<number[]> {
  const session = sessionWith({
    columns: { ...VOLTAGE_ONLY, time: { name: 'time', format } },
    log: { startMs: START * 1000 },
    timezone,
  });
  return (await read(log(times), session)).t;
}

describe('forms', () => {
  it.each<[string, TimeFormat | undefined, string[]]>([
    ['ISO with Z', 'iso', ['2026-03-03T17:40:00Z', '2026-03-03T17:40:00.25Z', '2026-03-03T17:41:00Z']],
    [
      'ISO with an offset',
      'iso',
      ['2026-03-03T18:40:00+01:00', '2026-03-03T18:40:00.25+01:00', '2026-03-03T12:41:00-05'],
    ],
    ['ISO with a space', undefined, ['2026-03-03 17:40:00', '2026-03-03 17:40:00.250', '2026-03-03 17:41:00']],
    ['ISO without separators', 'iso', ['20260303T174000Z', '20260303T174000.25Z', '20260303T174100Z']],
    ['epoch-s', undefined, [`${START}`, `${START}.25`, `${START + 60}`]],
    ['epoch-ms', undefined, [`${START}000`, `${START}250`, `${START + 60}000`]],
    ['epoch-us', undefined, [`${START}000000`, `${START}250000`, `${START + 60}000000`]],
    ['elapsed', 'elapsed-s', ['0', '0.25', '60']],
    [
      'day first',
      { pattern: 'DD.MM.YYYY HH:mm:ss' },
      ['03.03.2026 17:40:00', '03.03.2026 17:40:00.25', '3.3.2026 17:41:00'],
    ],
    [
      'two-digit year, 12 hours',
      { pattern: 'MM/DD/YY hh:mm:ss.SSS A' },
      ['03/03/26 05:40:00.000 PM', '03/03/26 05:40:00.250 PM', '03/03/26 05:41:00.000 pm'],
    ],
    [
      'names of months',
      { pattern: 'D MMM YYYY H:mm:ss' },
      ['3 Mar 2026 17:40:00', '3 March 2026 17:40:00,25', '3 mar 2026 17:41:00'],
    ],
    [
      'year first',
      { pattern: 'YYYY/MM/DD HH:mm:ss' },
      ['2026/03/03 17:40:00', '2026/03/03 17:40:00.25', '2026/03/03 17:41:00'],
    ],
    ['no separators', { pattern: 'YYYYMMDDHHmmss' }, ['20260303174000', '20260303174000.25', '20260303174100']],
    [
      'letters of its own',
      { pattern: 'YYYY-MM-DD[ at ]HH:mm:ss' },
      ['2026-03-03 at 17:40:00', '2026-03-03 at 17:40:00.25', '2026-03-03 at 17:41:00'],
    ],
  ])('reads %s', async (_, format, times) => {
    expect(await timesOf(times, format)).toEqual([START, START + 0.25, START + 60]);
  });

  it('reads noon and midnight on a 12-hour clock', async () => {
    const times = ['03/03/26 12:00:00 AM', '03/03/26 01:00:00 AM', '03/03/26 12:00:00 PM', '03/03/26 01:00:00 PM'];
    const day = Date.UTC(2026, 2, 3) / 1000;
    const hours = (await timesOf(times, { pattern: 'MM/DD/YY hh:mm:ss A' })).map((t) => (t - day) / 3600);
    expect(hours).toEqual([0, 1, 12, 13]);
  });

  it.each([
    ['YYYY-MM-DD HH:mm:ss', ['2026-03-03', '17:40:00'], ['2026-03-03', '17:40:00.25'], ['2026-03-03', '17:41:00']],
    ['DD.MM.YYYY HH:mm:ss', ['03.03.2026', '17:40:00'], ['03.03.2026', '17:40:00.25'], ['03.03.2026', '17:41:00']],
    ['hh:mm:ss A MM/DD/YY', ['03/03/26', '05:40:00 PM'], ['03/03/26', '05:40:00.25 PM'], ['03/03/26', '05:41:00 PM']],
  ])('reads date and time of day in two columns: %s', async (pattern, ...rows) => {
    // The time of day may stand before the date.
    const text = `clock;v;date\n${rows.map(([date, clock]) => `${clock};12.5;${date}\n`).join('')}`;
    const columns = { ...VOLTAGE_ONLY, time: { name: 'date', clock: 'clock', format: { pattern } } };
    expect((await read(text, sessionWith({ columns }))).t).toEqual([START, START + 0.25, START + 60]);
  });

  it('finds two columns of ISO without being told', async () => {
    const text = 'date;clock;v\n2026-03-03;17:40:00;12.5\n2026-03-03;17:40:00.25;12.5\n';
    const columns = { ...VOLTAGE_ONLY, time: { name: 'date', clock: 'clock' } };
    expect((await read(text, sessionWith({ columns }))).t).toEqual([START, START + 0.25]);
  });
});

describe('what is not said', () => {
  const ask = async (times: string[], over = {}) => {
    const session = sessionWith({ columns: VOLTAGE_ONLY, log: over });
    return read(log(times), session).then(
      ({ t }) => t,
      (error: unknown) => (error instanceof UserError ? error.message : String(error)),
    );
  };

  it('finds day first and month first where a number above 12 shows it', async () => {
    const day = Date.UTC(2026, 2, 13) / 1000;
    expect(await ask(['13/03/2026 00:00:00', '13/03/2026 00:00:01'])).toEqual([day, day + 1]);
    expect(await ask(['03/13/2026 00:00:00', '03/13/2026 00:00:01'])).toEqual([day, day + 1]);
    expect(await ask(['13.03.2026 00:00:00', '13.03.2026 00:00:01'])).toEqual([day, day + 1]);
  });

  it('asks where either could be meant', async () => {
    expect(await ask(['03/04/2026 17:40:00'])).toContain('day first or month first?');
  });

  it('asks what plain seconds count from', async () => {
    expect(await ask(['0.0', '0.1'])).toContain('Then say elapsed-s (a row each 0.1 s), and log.start.');
    expect(await ask(['0.0', '0.5'], { startMs: START * 1000 })).toEqual([START, START + 0.5]);
  });

  it('refuses a pattern that is none, and elapsed time without a start', async () => {
    const session = (format: TimeFormat) =>
      sessionWith({ columns: { ...VOLTAGE_ONLY, time: { name: 'time', format } } });
    await expect(read(log(['1']), session({ pattern: 'DD.MM. HH:mm' }))).rejects.toThrow('no year');
    await expect(read(log(['1']), session({ pattern: 'DD.MM.YYYY HH:mm Q' }))).rejects.toThrow('(Q)');
    await expect(read(log(['1']), session('elapsed-s'))).rejects.toThrow('log.start');
  });
});

describe('local times across a clock change', () => {
  /** Berlin: back from 03:00 to 02:00 on 2026-10-25, forward from 02:00 to 03:00 on 2026-03-29, both at 01:00 UTC. */
  const local = (from: number, to: number, offsetAt: (t: number) => number): string[] => {
    const times: string[] = [];
    for (let t = from; t <= to; t += 60) times.push(iso(t + offsetAt(t)).slice(0, 19));
    return times;
  };
  const minutes = (from: number, to: number) => Array.from({ length: (to - from) / 60 + 1 }, (_, k) => from + 60 * k);

  it('goes through both hours in autumn, and says that they were ambiguous', async () => {
    const change = Date.UTC(2026, 9, 25, 1) / 1000;
    const [from, to] = [change - 7200, change + 7200];
    const times = local(from, to, (t) => (t < change ? 7200 : 3600));
    const session = sessionWith({ columns: VOLTAGE_ONLY, timezone: 'Europe/Berlin' });
    const { t, account } = await read(log(times), session);
    expect(t).toEqual(minutes(from, to));
    expect(kinds(account)).toEqual(['ambiguous-time']);
    expect(fault(account, 'ambiguous-time')).toMatchObject({ count: 120, at: change - 3600 });
  });

  it('goes through the skipped hour in spring without a gap', async () => {
    const change = Date.UTC(2026, 2, 29, 1) / 1000;
    const [from, to] = [change - 7200, change + 7200];
    const session = sessionWith({ columns: VOLTAGE_ONLY, timezone: 'Europe/Berlin' });
    const { t, account } = await read(log(local(from, to, (t) => (t < change ? 3600 : 7200))), session);
    expect(t).toEqual(minutes(from, to));
    expect(account.faults).toEqual([]);
  });

  it('takes times that the change skipped in their order, and says so', async () => {
    // A logger that does not know of the change.
    const change = Date.UTC(2026, 2, 29, 1) / 1000;
    const [from, to] = [change - 3600, change + 7200];
    const session = sessionWith({ columns: VOLTAGE_ONLY, timezone: 'Europe/Berlin' });
    const { t, account } = await read(log(local(from, to, () => 3600)), session);
    expect(t).toEqual(minutes(from, to));
    expect(fault(account, 'impossible-time')).toMatchObject({ count: 60, at: change });
    expect(kinds(account)).toContain('clock-jump');
  });

  it('carries the order over from file to file', async () => {
    const change = Date.UTC(2026, 9, 25, 1) / 1000;
    const [from, to] = [change - 7200, change + 7200];
    const times = local(from, to, (t) => (t < change ? 7200 : 3600));
    const session = sessionWith({ columns: VOLTAGE_ONLY, timezone: 'Europe/Berlin' });
    const half = times.length / 2;
    const files = { 'a.csv': log(times.slice(0, half + 20)), 'b.csv': log(times.slice(half + 20)) };
    expect((await read(files, session)).t).toEqual(minutes(from, to));
  });
});
