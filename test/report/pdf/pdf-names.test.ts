/** Names under which PDFs are mailed: told apart, and safe on every system. What Windows refuses: Microsoft's "Naming Files, Paths, and Namespaces". */
import { describe, expect, it } from 'vitest';
import { patternFault, pdfName, pdfsOf } from '../../../src/report/pdf/pdf-names.ts';
import { sessionWith } from '../../log/helpers.ts';

const PATTERN = '{registration}_{date}_{id}.pdf';
const START_MS = Date.UTC(2026, 2, 3, 23, 30);
const base = { ...sessionWith(), id: 'harbour-lane-0412', timezone: 'Europe/Berlin', repairOrder: 'HL-20431' };
const of = (registration?: string, more: object = {}) => ({
  ...base,
  vehicle: { ...base.vehicle, registration },
  ...more,
});

describe('a name for a mail', () => {
  it('has the local day of the log', () => {
    expect(pdfName(PATTERN, of('M-AB-1234'), START_MS)).toBe('M-AB-1234_2026-03-04_harbour-lane-0412.pdf');
    expect(pdfName(PATTERN, of('M-AB-1234', { timezone: 'America/New_York' }), START_MS)).toContain('_2026-03-03_');
  });

  it('leaves out what is not known, and the sign beside it', () => {
    expect(pdfName(PATTERN, of(), START_MS)).toBe('2026-03-04_harbour-lane-0412.pdf');
    expect(pdfName('{id} - {registration}.pdf', of(), START_MS)).toBe('harbour-lane-0412.pdf');
    expect(pdfName('{registration}', of(), START_MS)).toBe('harbour-lane-0412.pdf');
  });

  it.each([
    ['MÜ AB 1234', 'MÜ-AB-1234.pdf'],
    ['../../etc/passwd', 'etc-passwd.pdf'],
    ['a/b\\c:d*e?f"g<h>i|j\u0000k', 'a-b-c-d-e-f-g-h-i-j-k.pdf'],
    ['CON', '_CON.pdf'],
    ['lpt1', '_lpt1.pdf'],
    ['ends in a point. ', 'ends-in-a-point.pdf'],
    ['京都 330 あ 12-34', '京都-330-あ-12-34.pdf'],
  ])('of %s is %s', (registration, name) => {
    expect(pdfName('{registration}.pdf', of(registration), START_MS)).toBe(name);
  });

  it('stays short enough for a path', () => {
    const name = pdfName('{title}_{id}.pdf', of('x', { title: 'word '.repeat(100) }), START_MS);
    expect(name.length).toBeLessThan(130);
    expect(name).toMatch(/[^-_. ]\.pdf$/);
  });
});

describe('a pattern', () => {
  it.each(['report.pdf', '{plate}.pdf', 'a/{id}.pdf', '..\\{id}', '{id', '{id}:x'])('%s is refused', (pattern) => {
    expect(patternFault(pattern)).toMatch(/^Found .*Expected: .*\{registration\}/);
  });
  it.each([PATTERN, '{id}', 'Report {repair_order} {vehicle} {title} {purpose}.PDF'])('%s is taken', (pattern) => {
    expect(patternFault(pattern)).toBeUndefined();
  });
});

describe('the PDFs of a report', () => {
  const names = (wish: Parameters<typeof pdfsOf>[0], more: object = {}) =>
    Object.fromEntries(pdfsOf(wish, of('M-AB-1234', more), START_MS, () => 'kunde'));

  it("always have the archive's own", () => {
    expect(names({ customer: false })).toEqual({ 'report.pdf': 'whole' });
    expect(names({ customer: true, pattern: '{registration}' })).toEqual({
      'report.pdf': 'whole',
      'customer.pdf': 'customer',
      'M-AB-1234.pdf': 'whole',
      'M-AB-1234_kunde.pdf': 'customer',
    });
  });

  it('take no name from each other', () => {
    expect(names({ customer: true, pattern: '{id}' }, { id: 'Customer' })).toEqual({
      'report.pdf': 'whole',
      'customer.pdf': 'customer',
      'Customer_kunde.pdf': 'customer',
    });
  });
});
