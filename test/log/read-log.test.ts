import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { UserError } from '../../src/base/problem.ts';
import {
  csv,
  kinds,
  memoryIo,
  type Reading,
  read,
  readFrom,
  type Sample,
  START,
  samples,
  sessionWith,
} from './helpers.ts';

const ROWS = samples(60);
const PLAIN = csv(ROWS);

function expectRows(reading: Reading, rows: readonly Sample[] = ROWS): void {
  expect(reading.t).toEqual(rows.map(({ t }) => t));
  expect(reading.v).toEqual(rows.map(({ v }) => v));
  expect(reading.i).toEqual(rows.map(({ a }) => a));
  expect(reading.temp).toEqual(rows.map(({ c }) => c));
  expect(reading.account.rows).toBe(rows.length);
  expect(reading.account.rowsRejected).toBe(0);
  expect(reading.account.faults).toEqual([]);
}

function understood(reading: Reading, what: string): string | undefined {
  return reading.account.understood.find((entry) => entry.what === what)?.how;
}

/** The same rows with other signs between and within numbers. */
function written(delimiter: string, decimal = '.'): string {
  return PLAIN.split('\n')
    .map((row) => row.split(','))
    .map((cells) => cells.map((cell, k) => (k === 0 ? cell : cell.replace('.', decimal))).join(delimiter))
    .join('\n');
}

async function refusal(promise: Promise<unknown>): Promise<UserError> {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof UserError)) throw new Error(`expected a UserError, not ${String(error)}`);
  return error;
}

describe('delimiters and decimal signs', () => {
  it.each([
    [',', 'comma'],
    [';', 'semicolon'],
    ['\t', 'tab'],
    ['|', 'pipe'],
    [' ', 'spaces'],
  ])('reads %j', async (delimiter, name) => {
    const reading = await read(written(delimiter));
    expectRows(reading);
    expect(understood(reading, 'delimiter')).toBe(`${name}, found from the file`);
  });

  it.each([';', '\t', '|', ' '])('reads a decimal comma between %j', async (delimiter) => {
    const reading = await read(written(delimiter, ','));
    expectRows(reading);
    expect(understood(reading, 'decimal sign')).toBe('comma, found from the file');
  });

  it('reads a decimal comma in quotes between commas', async () => {
    const quoted = PLAIN.replace(/,(-?[\d]+)\.(\d+)/g, ',"$1,$2"');
    expectRows(await read(quoted));
  });

  it('asks where 1,234 could be two things', async () => {
    const text = 'time;v\n2026-03-03T17:40:00Z;12,634\n2026-03-03T17:40:01Z;12,635\n';
    const session = sessionWith({ columns: { current: undefined, temperature: undefined } });
    const error = await refusal(read(text, session));
    expect(error.problems[0].path).toBe('log.decimal');
    expect(error.message).toContain('"12,634"');
    const told = sessionWith({ columns: { current: undefined, temperature: undefined }, log: { decimal: ',' } });
    expect((await read(text, told)).v).toEqual([12.634, 12.635]);
  });

  it.each<[string, string, number, ',' | '.' | undefined]>([
    [
      'a count with a point beside values with a comma',
      '1780927200.5;12,719|1780927201.0;12,720|1780927201.5;12,721',
      0.5,
      ',',
    ],
    ['one that begins at nought, to the millisecond', '0.000;12,719|0.500;12,720|1.000;12,721', 0.5, ','],
    [
      'a count with a comma beside values with a point',
      '1780927200,5;12.719|1780927201,0;12.720|1780927201,5;12.721',
      0.5,
      '.',
    ],
    [
      'the same where nobody stated the sign',
      '1780927200,5;12.71|1780927201,0;12.72|1780927201,5;12.73',
      0.5,
      undefined,
    ],
    ['values and count alike', '1780927200,5;12,719|1780927201,0;12,720|1780927201,5;12,721', 0.5, ','],
  ])('reads %s', async (_, rows, stepS, decimal) => {
    const time = { name: 't', format: rows.startsWith('0') ? 'elapsed-s' : 'epoch-s' } as const;
    const columns = { time, current: undefined, temperature: undefined };
    const session = sessionWith({ columns, log: { decimal, startMs: START * 1000 } });
    const reading = await read(['t;v', ...rows.split('|'), ''].join('\n'), session);
    expect(reading.t.length).toBe(3);
    expect(reading.t[1] - reading.t[0]).toBeCloseTo(stepS, 6);
    expect(reading.t[2] - reading.t[1]).toBeCloseTo(stepS, 6);
    expect(reading.v[0]).toBeCloseTo(12.7, 1);
  });

  it('asks for the sign of values with thousandths, whatever the count beside them has', async () => {
    const columns = { time: { name: 't', format: 'epoch-s' as const }, current: undefined, temperature: undefined };
    const text = 't;v\n1780927200.5;12,719\n1780927201.5;12,720\n';
    const error = await refusal(read(text, sessionWith({ columns })));
    expect(error.problems[0].path).toBe('log.decimal');
  });

  it('makes no log of the few rows that can be read by chance, and reads one of which a half is damaged', async () => {
    const session = sessionWith({ columns: { time: { name: 'time', format: 'iso' } } });
    const line = (k: number, good: boolean) =>
      `${good ? '' : '?'}${new Date((START + k) * 1000).toISOString()},12.6,1,20`;
    const text = (good: number) =>
      ['time,v,a,c', ...Array.from({ length: 2000 }, (_, k) => line(k, k % 100 < good)), ''].join('\n');
    const error = await refusal(read(text(2), session));
    expect(error.message).toContain('1960 of 2000 rows cannot be read');
    expect(error.message).toContain('Expected: rows as session.yaml states them');
    expect((await read(text(50), session)).v.length).toBe(1000);
  });

  it('reads thousands where the sign is certain', async () => {
    const text = 'time;v;a;c\n2026-03-03T17:40:00Z;12.634,5;-1.234,5;20,5\n2026-03-03T17:40:01Z;12.635,0;0,5;20,5\n';
    const session = sessionWith({ columns: { voltage: { name: 'v', unit: 'mV' } } });
    const reading = await read(text, session);
    expect(reading.v).toEqual([12.6345, 12.635]);
    expect(reading.i).toEqual([-1234.5, 0.5]);
  });
});

describe('encodings and line ends', () => {
  it.each([
    ['a byte order mark', Buffer.from(`\uFEFF${PLAIN}`)],
    ['UTF-16, little end first', Buffer.from(`\uFEFF${PLAIN}`, 'utf16le')],
    ['UTF-16, big end first', Buffer.from(`\uFEFF${PLAIN}`, 'utf16le').swap16()],
    ['UTF-16 without a mark', Buffer.from(PLAIN, 'utf16le')],
    ['CR and LF', Buffer.from(PLAIN.replaceAll('\n', '\r\n'))],
    ['CR alone', Buffer.from(PLAIN.replaceAll('\n', '\r'))],
    ['no end of the last line', Buffer.from(PLAIN.slice(0, -1))],
    ['gz', gzipSync(PLAIN)],
    ['two gz members in one file', Buffer.concat([gzipSync(PLAIN.slice(0, 500)), gzipSync(PLAIN.slice(500))])],
  ])('reads %s', async (_, bytes) => expectRows(await read(bytes)));

  it('finds names in Latin-1 as in UTF-8', async () => {
    const text = PLAIN.replace('time,v,a,c', 'time,v,a,Öl °C');
    const session = sessionWith({ columns: { temperature: { name: 'Öl °C', unit: '°C' } } });
    expectRows(await read(Buffer.from(text, 'utf8'), session));
    const latin = await read(Buffer.from(text, 'latin1'), session);
    expectRows(latin);
    expect(understood(latin, 'encoding')).toBe('latin-1');
  });
});

describe('headers', () => {
  it('skips what stands before the header, and units below it', async () => {
    const text = PLAIN.replace('time,v,a,c\n', 'Logger 4\nSerial: 12;7, b\n\n"Log, all"\ntime,v,a,c\n,V,A,°C\n');
    const reading = await read(text);
    expectRows(reading);
    expect(understood(reading, 'header')).toBe('line 5');
    expect(reading.account.linesIgnored).toBe(6);
  });

  it('takes columns by number where there is no header', async () => {
    const session = sessionWith({
      columns: {
        time: { name: 1 },
        voltage: { name: 2, unit: 'V' },
        current: { name: 3, unit: 'A', positive: 'charging' },
        temperature: { name: 4, unit: '°C' },
      },
    });
    expectRows(await read(PLAIN.replace('time,v,a,c\n', ''), session));
    // And where there is one, or a preamble.
    expectRows(await read(PLAIN, session));
    expectRows(await read(`Logger 4, all columns\n\n${written(';', ',')}`, session));
  });

  it('names every wrong column, with the header and the nearest', async () => {
    const session = sessionWith({
      columns: {
        voltage: { name: 'volts_batt', unit: 'V', at: { line: 12, column: 20 } },
        current: { name: 'x', unit: 'A', positive: 'charging' },
      },
    });
    const error = await refusal(read(PLAIN.replace('time,v,', 'time,volt_batt,'), session));
    expect(error.problems).toHaveLength(2);
    expect(error.problems[0]).toMatchObject({
      file: 'session.yaml',
      line: 12,
      column: 20,
      path: 'log.columns.voltage',
    });
    expect(error.problems[0].message).toContain('Did you mean "volt_batt"?');
    expect(error.problems[0].message).toContain('"time", "volt_batt", "a", "c"');
  });

  it('asks which of two columns of one name is meant', async () => {
    const error = await refusal(
      read(PLAIN.replace('time,v,a,c', 'time,v,v,c'), sessionWith({ columns: { current: undefined } })),
    );
    expect(error.message).toContain('Two columns of the log are called "v"');
  });

  it('ignores thousands of other columns', async () => {
    const others = Array.from({ length: 3000 }, (_, k) => k);
    const text = PLAIN.trimEnd()
      .split('\n')
      .map((row, k) => `${others.map((n) => (k === 0 ? `left${n}` : n)).join(',')},${row},${others.join(',')}\n`)
      .join('');
    expectRows(await read(text));
  });

  it('ignores a header written again, comments and blank lines', async () => {
    const rows = PLAIN.split('\n');
    rows.splice(20, 0, 'time,v,a,c', '# card changed', '');
    const reading = await read(rows.join('\n'));
    expectRows(reading);
    expect(reading.account.linesIgnored).toBe(4);
  });

  it('tells an empty file and a header alone, and reads the rest', async () => {
    const reading = await read({ 'a.csv': '', 'b.csv': PLAIN, 'c.csv': 'time,v,a,c\n' });
    expect(reading.t).toHaveLength(60);
    expect(kinds(reading.account)).toEqual(['empty', 'empty']);
    const error = await refusal(read({ 'a.csv': '', 'c.csv': 'time,v,a,c\n' }));
    expect(error.message).toContain('a.csv The log is empty');
    expect(error.message).toContain('c.csv The log has no rows');
  });

  it('takes no log of a single row, over which no time passes', async () => {
    await expect(read(csv(ROWS.slice(0, 1)))).rejects.toThrow('No time passes');
    const still = [ROWS[0], { ...ROWS[1], t: ROWS[0].t }];
    await expect(read(csv(still))).rejects.toThrow('No time passes');
    expectRows(await read(csv(ROWS.slice(0, 2))), ROWS.slice(0, 2));
  });

  it('names a file that cannot be opened', async () => {
    const error = await refusal(readFrom(memoryIo({}), ['log/gone.csv'], sessionWith()));
    expect(error.problems).toMatchObject([{ file: 'log/gone.csv', message: expect.stringContaining('ENOENT') }]);
  });
});

describe('units and values', () => {
  it('turns mV, mA, °F, K and the sign of a draw into SI', async () => {
    const text = 'time,v,a,c,k\n2026-03-03T17:40:00Z,12634,21.5,68,11900\n2026-03-03T17:40:01Z,12634,0,32,0\n';
    const session = sessionWith({
      columns: {
        voltage: { name: 'v', unit: 'mV' },
        current: { name: 'a', unit: 'mA', positive: 'discharging' },
        temperature: { name: 'c', unit: '°F' },
      },
      channels: [{ name: 'k', label: 'K', unit: 'mV', measures: 'supply' }],
    });
    const reading = await read(text, session);
    expect(reading.v).toEqual([12.634, 12.634]);
    expect(reading.i).toEqual([-0.0215, 0]);
    expect(reading.temp[0]).toBeCloseTo(20, 12);
    expect(reading.temp[1]).toBe(0);
    expect(reading.ch).toEqual([[11.9, 0]]);
    const kelvin = sessionWith({ columns: { temperature: { name: 'c', unit: 'K' } } });
    const fromKelvin = await read(
      'time,v,a,c\n2026-03-03T17:40:00Z,12,0,293.15\n2026-03-03T17:40:01Z,12,0,273.15\n',
      kelvin,
    );
    expect(fromKelvin.temp).toEqual([20, 0]);
  });

  it('takes empty cells, NaN and dashes as missing, exponents and units as numbers', async () => {
    const text = [
      'time,v,a,c',
      '2026-03-03T17:40:00Z,12.6,,20',
      '2026-03-03T17:40:01Z,,-0.5,NaN',
      '2026-03-03T17:40:02Z,1.26e1,-5E-1, - ',
      '2026-03-03T17:40:03Z,12.6 V,+.5,20.',
      '',
    ].join('\n');
    const reading = await read(text);
    expect(reading.v).toEqual([12.6, Number.NaN, 12.6, 12.6]);
    expect(reading.i).toEqual([Number.NaN, -0.5, -0.5, 0.5]);
    expect(reading.temp).toEqual([20, Number.NaN, Number.NaN, 20]);
    expect(reading.account.faults).toEqual([]);
  });

  it('gives NaN for columns that the manifest does not have', async () => {
    const session = sessionWith({ columns: { current: undefined, temperature: undefined } });
    const reading = await read(PLAIN, session);
    expect(reading.v).toEqual(ROWS.map(({ v }) => v));
    expect(reading.i.every(Number.isNaN)).toBe(true);
    expect(reading.temp.every(Number.isNaN)).toBe(true);
  });
});

describe('several files', () => {
  const parts = [ROWS.slice(0, 20), ROWS.slice(20, 25), ROWS.slice(25)].map(csv);

  it('puts files in order of time, whatever their names', async () => {
    expectRows(await read({ 'a.csv': parts[2], 'b.csv': parts[0], 'c.csv': parts[1] }));
  });

  it('takes the names from the one file that has them, whichever it is', async () => {
    const bare = parts.map((part) => part.replace('time,v,a,c\n', ''));
    for (const named of [0, 1, 2]) {
      const [a, b, c] = bare.map((part, k) => (k === named ? parts[k] : part));
      const reading = await read({ 'a.csv': a, 'b.csv': b, 'c.csv': c });
      expectRows(reading);
      const headers = reading.account.understood.filter(({ what }) => what.startsWith('header'));
      const told = headers.map(({ how }) => how).join('; ');
      expect(told).toContain('line 1');
      expect(told).toContain(`none, its columns are those of ${'abc'[named]}.csv`);
    }
    // Not where a file is of another shape.
    await expect(read({ 'a.csv': parts[0], 'b.csv': bare[1].replaceAll(/,[^,]*$/gm, '') })).rejects.toThrow('b.csv');
    await expect(read({ 'a.csv': bare[0], 'b.csv': bare[1] })).rejects.toThrow('a.csv');
  });

  it('tells an overlap, and takes no time twice', async () => {
    const reading = await read({ 'a.csv': csv(ROWS.slice(0, 40)), 'b.csv': csv(ROWS.slice(30)) });
    expect(reading.t).toEqual(ROWS.map(({ t }) => t));
    expect(reading.account.faults).toMatchObject([{ kind: 'overlap', count: 10, file: 'b.csv', line: 2 }]);
    expect(reading.account.faults[0].seconds).toBeCloseTo(0.9, 6);
    expect(reading.account).toMatchObject({ rows: 70, rowsRejected: 10 });
  });

  it('counts bytes and rows of each, in the order of their names', async () => {
    const { account } = await read({ 'a.csv': parts[2], 'b.csv': parts[0] });
    expect(account.files.map(({ name, rows, bytes }) => ({ name, rows, bytes }))).toEqual([
      { name: 'a.csv', rows: 35, bytes: parts[2].length },
      { name: 'b.csv', rows: 20, bytes: parts[0].length },
    ]);
  });
});

it('has the checksum of the bytes on disk', async () => {
  const { createHash } = await import('node:crypto');
  const bytes = gzipSync(PLAIN);
  const { account } = await read(bytes);
  expect(account.files[0].sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
});

it('keeps START as the first time', async () => {
  expect((await read(PLAIN)).t[0]).toBe(START);
});
