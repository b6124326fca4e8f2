/** What becomes of names that a redacted report must not hold. */
import { describe, expect, it } from 'vitest';
import type { LogAccount } from '../../src/log/block.ts';
import { redacted, redactedLog } from '../../src/report/redact.ts';
import { sessionWith } from '../log/helpers.ts';

function account(names: readonly string[], understood: LogAccount['understood'] = []): LogAccount {
  return {
    files: names.map((name) => ({ name, bytes: 1, sha256: '0', rows: 1 })),
    rows: 1,
    rowsRejected: 0,
    faults: names.map((file) => ({ kind: 'unreadable-row', at: 0, count: 1, seconds: 0, file, found: file })),
    gaps: [],
    understood,
  };
}

describe('names of logs', () => {
  it.each([
    [['log-1.csv', 'SMITH log-1.csv'], 'SMITH'],
    [['1.csv', 'SMITH 1.csv', 'SMITH 1.csv.gz'], 'SMITH'],
    [['a', 'SMITH a'], 'SMITH'],
    [['log/171-D-0042.SMITH'], 'SMITH'],
    [[`${'long '.repeat(14)}SMITH.csv`], 'long'],
    [['$&SMITH(1).csv', 'SMITH(1).csv'], 'SMITH'],
  ])('leave nothing of themselves: %j', (names, secret) => {
    const { plain, files } = { plain: redactedLog(account(names)), files: names };
    const told = files.map((name) => ({ what: `delimiter of ${name.slice(0, 59)}…`, how: `none, as in ${name}` }));
    expect(JSON.stringify(plain)).not.toContain(secret);
    expect(
      JSON.stringify(
        redactedLog(
          account(
            names,
            told.map(({ how }) => ({ what: 'header', how })),
          ),
        ),
      ),
    ).not.toContain(secret);
  });

  it('are neutral, each another', () => {
    const { files, faults } = redactedLog(account(['b.CSV.gz', 'a b.CSV.gz', 'c.parquet', 'd.tsv']));
    expect(files.map(({ name }) => name)).toEqual(['log-1.csv.gz', 'log-2.csv.gz', 'log-3.parquet', 'log-4.tsv']);
    expect(faults.map(({ file }) => file)).toEqual(files.map(({ name }) => name));
  });

  it('go as a message shortens them', () => {
    const name = `${'long '.repeat(14)}SMITH.csv`;
    const { understood } = redactedLog(account([name], [{ what: `form of ${name.slice(0, 59)}…`, how: 'text' }]));
    expect(understood[0].what).toBe('form of log-1.csv');
  });
});

describe('registration and VIN', () => {
  const told = async (registration: string, description: string) => {
    const session = sessionWith();
    const vehicle = { ...session.vehicle, registration, description };
    return (await redacted({ ...session, vehicle }, 'Complaint', () => 'redacted')).vehicle.description;
  };

  it('are found in every spelling', async () => {
    for (const spelt of ['171-D-0042', '171 d 0042', '171D0042', '171·d‑0042', '1 7 1 D 0 0 4 2', 'x171d0042x'])
      expect(await told('171-D-0042', `van ${spelt}, white`)).not.toMatch(/0042|4 2/);
  });

  it('that are short are found as words of their own, and leave others whole', async () => {
    expect(await told('AB1', 'cab12 of AB-1, ab 1')).toBe('cab12 of …, …');
  });
});
