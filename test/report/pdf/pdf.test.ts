import { expect, test } from 'vitest';
import { pinPdf } from '../../../src/report/pdf/pdf.ts';

const NOON = Date.UTC(2026, 2, 8, 12, 0, 0);
const pin = (text: string) => pinPdf(Buffer.from(text, 'latin1'), NOON).toString('latin1');

test('both dates become the given one, in UTC, whatever zone they were in', () => {
  expect(pin("/CreationDate (D:20261125092252+00'00')\n/ModDate (D:20250101235959-05'30')>>")).toBe(
    "/CreationDate (D:20260308120000+00'00')\n/ModDate (D:20260308120000+00'00')>>",
  );
});

test('cell names are numbered anew in their own order, everywhere they stand', () => {
  const page = (a: string, b: string) =>
    `/ID (${b})>> /ID (${a})>> /Headers [(${a}) (${b})]>> <</Limits [(${a}) (${b})]\n/Names [(${a}) 32 0 R (${b}) 31 0 R]>>`;
  expect(pin(page('node00000020', 'node00000107'))).toBe(page('node00000001', 'node00000002'));
});

test('text that looks like a date or a cell name stays as it was written', () => {
  const written = [
    '/Alt (node00000020)',
    '/Title (node00000020)',
    '/Alt (see \\(node00000020\\))',
    "/Title (/ModDate \\(D:20250101235959-05'30'\\))",
  ].join('\n');
  expect(pin(written)).toBe(written);
});

test('every byte value passes through, and no offset moves', () => {
  const bytes = Buffer.concat([Buffer.from("/ModDate (D:20250101235959+00'00')"), Buffer.from([...Array(256).keys()])]);
  const pinned = pinPdf(bytes, NOON);
  expect(pinned.length).toBe(bytes.length);
  expect(pinned.subarray(-256)).toEqual(bytes.subarray(-256));
});
