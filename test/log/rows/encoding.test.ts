import { expect, it } from 'vitest';
import { recoder, sniffEncoding, textOf } from '../../../src/log/rows/encoding.ts';

const utf16le = (text: string) => new Uint8Array(Buffer.from(text, 'utf16le'));
const utf16be = (text: string) => new Uint8Array(Buffer.from(text, 'utf16le').swap16());

it.each([
  ['a mark of UTF-8', Buffer.from('\ufefftime'), 'utf-8', 3],
  ['a mark of UTF-16', Buffer.from('\ufefftime', 'utf16le'), 'utf-16le', 2],
  ['UTF-16 without a mark', utf16le('time;volt'), 'utf-16le', 0],
  ['UTF-16, the other end first', utf16be('time;volt'), 'utf-16be', 0],
  ['a letter of Latin-1', Buffer.from('Messung f\xfcr', 'latin1'), 'latin-1', 0],
  ['plain text', Buffer.from('time,volt'), 'utf-8', 0],
  ['a character cut off at the end', Buffer.from('volt \u00b0').subarray(0, -1), 'utf-8', 0],
] as const)('knows %s', (_, head, encoding, bomBytes) => {
  expect(sniffEncoding(new Uint8Array(head))).toEqual({ encoding, bomBytes });
});

it('writes UTF-16 anew as UTF-8, though a character comes in two pieces', () => {
  const { next, end } = recoder('utf-16le');
  const bytes = utf16le('12,6 °C');
  const out = [next(bytes.subarray(0, 11)), next(bytes.subarray(11)), end()];
  expect(Buffer.concat(out).toString('utf8')).toBe('12,6 °C');
});

it('shows each byte of Latin-1 as its letter', () => {
  expect(textOf(new Uint8Array([0x42, 0xfc]), 'latin-1')).toBe('Bü');
});
