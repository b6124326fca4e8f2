import { describe, expect, test } from 'vitest';
import { limitAxis } from '../../src/charts/limit-axis.ts';
import type { Finding } from '../../src/checks/check.ts';
import { ENGLISH } from './english.ts';

const finding = (change: Partial<Finding>): Finding => ({
  check: 'parked-draw',
  status: 'clear',
  cautions: [],
  measured: { value: 0.047, unit: 'A', uncertainty: 0.006 },
  limit: { value: 0.05, unit: 'A', source: 'here' },
  ...change,
});

describe('value beside its limit', () => {
  test('says both in words', () => {
    expect(limitAxis(finding({}), ENGLISH)?.title).toBe('47\u00a0mA\u00a0±\u00a06\u00a0mA, limit 50\u00a0mA');
  });

  test('shades the side on which the check is at fault', () => {
    const shaded = (check: string) => JSON.stringify(limitAxis(finding({ check }), ENGLISH)?.spec);
    expect(shaded('parked-draw')).toContain('{"x":50,"to":80}');
    expect(shaded('stand-time')).toContain('{"x":0,"to":50}');
    expect(shaded('some-check-of-tomorrow')).not.toContain('"to"');
  });

  test.each([
    ['no value', { measured: undefined }],
    ['no limit', { limit: undefined }],
    ['units that differ', { limit: { value: 3, unit: 'V', source: 'here' } }],
    ['a probability, of which little is much', { check: 'circuit-link' }],
    ['no number', { measured: { value: Number.NaN, unit: 'A', uncertainty: 0.1 } }],
  ] as const)('is not drawn with %s', (_, change) => {
    expect(limitAxis(finding(change as Partial<Finding>), ENGLISH)).toBeNull();
  });

  test('is not drawn where the value keeps the limit and something else is wrong', () => {
    const inside = { value: 0.02, unit: 'A', uncertainty: 0.002 } as const;
    expect(limitAxis(finding({ status: 'watch', measured: inside }), ENGLISH)).toBeNull();
    expect(limitAxis(finding({ status: 'clear', measured: inside }), ENGLISH)).not.toBeNull();
    expect(limitAxis(finding({ status: 'watch', measured: { ...inside, value: 0.08 } }), ENGLISH)).not.toBeNull();
  });

  test('an endless uncertainty is no bar', () => {
    const draft = limitAxis(
      finding({ measured: { value: 0.047, unit: 'A', uncertainty: Number.POSITIVE_INFINITY } }),
      ENGLISH,
    );
    expect(draft?.title).toBe('47\u00a0mA, limit 50\u00a0mA');
    expect(JSON.stringify(draft?.spec)).toContain('"lo":47,"hi":47');
  });
});
