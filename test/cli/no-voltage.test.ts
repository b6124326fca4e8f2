/** A sensor that reads no voltage, or only at times: what the report says of it can be read again. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ReportContract } from '../../src/report/contract/report.ts';
import { isoLocal, standstill, VAN_MANIFEST, type VanFiles, type VanRow, vanFiles, vanRows } from './van.ts';

let files: VanFiles;
beforeAll(async () => {
  files = await vanFiles();
});
afterAll(() => files.remove());

const DRIVE_S = 1800;

test.each<[string, (row: VanRow, k: number) => boolean]>([
  ['never', () => false],
  ['in the first row alone', (_, k) => k === 0],
  ['while parked', ({ s }) => s % 43_200 > DRIVE_S],
  ['in the first day', ({ s }) => s < 86_400],
  ['in every tenth row', (_, k) => k % 10 === 0],
])('voltage read %s', async (name, isRead) => {
  const rows = vanRows().map((row, k) => {
    const { s, volts, amps } = row;
    return `${isoLocal(s)},${isRead(row, k) ? volts.toFixed(3) : ''},${amps.toFixed(3)}`;
  });
  // A heavy load for ten seconds.
  const heavy = rows.map((row, k) => (k >= 3000 && k < 3003 ? row.replace(/[^,]*$/, '-120') : row));
  const folder = await files.add(name.replaceAll(' ', '-'), {
    'session.yaml': VAN_MANIFEST,
    'log.csv': `time,U,I\n${heavy.join('\n')}\n`,
  });
  const out = join(folder, 'out');
  const { code, err } = await standstill('build', folder, '--out', out, '--no-pdf');
  expect(code, err).toBe(0);
  const report = JSON.parse(readFileSync(join(out, 'sessions/small-van/report.json'), 'utf8'));
  expect(ReportContract.safeParse(report).error?.issues).toBeUndefined();
  // Nobody could say of a log without voltage that it was driven, or charged from outside.
  if (name === 'never') expect(report.periods.map(({ kind }: { kind: string }) => kind)).not.toContain('driving');
});
