import { expect, it } from 'vitest';
import { openInput } from '../../../src/log/files/open-input.ts';
import { csv, memoryIo, samples, sessionWith } from '../helpers.ts';

const open = (content: string | Uint8Array, name = 'log.csv') =>
  openInput(memoryIo({ 'log.csv': content }), sessionWith(), name);

it('takes a text log by what it holds, and says what was understood', async () => {
  const input = await open(csv(samples(50)));
  expect(input.firstT).toBeCloseTo(samples(50)[2].t, 3);
  expect(input.understood.map(({ what }) => what)).toContain('delimiter');
  await input.close();
});

it('refuses a zip file or a workbook under another name, and a Parquet file that is none', async () => {
  await expect(open(Buffer.from('PK\u0003\u0004 and so on'))).rejects.toThrow(/zip file or a spreadsheet/);
  const broken = await open(Buffer.from('PAR1 and nothing of what follows in one'));
  const outcome = await broken.read(
    () => {},
    () => {},
  );
  expect(outcome.damage).toMatch(/cannot be read/);
});

it('a file that is not there is a fault that the user can mend', async () => {
  await expect(open('', 'other.csv')).rejects.toMatchObject({ problems: [{ file: 'other.csv' }] });
});
