import { describe, expect, it } from 'vitest';
import { createArrivals } from '../../../src/archive/watch/arrivals.ts';

const seen = (prints: Record<string, string>) => new Map(Object.entries(prints));

describe('sessions that arrive', () => {
  it('are handed out once, when nothing has changed for long enough', () => {
    const arrivals = createArrivals(100);
    expect(arrivals.look(seen({ a: '1' }), 0)).toEqual([]);
    expect(arrivals.look(seen({ a: '1' }), 99)).toEqual([]);
    expect(arrivals.look(seen({ a: '1' }), 100)).toEqual(['a']);
    expect(arrivals.look(seen({ a: '1' }), 1000)).toEqual([]);
  });

  it('are waited for while they grow, however slowly, and come again when they grow after all', () => {
    const arrivals = createArrivals(100);
    for (let k = 0; k < 20; k++) expect(arrivals.look(seen({ a: `${k}` }), 90 * k)).toEqual([]);
    expect(arrivals.look(seen({ a: '19' }), 1810)).toEqual(['a']);
    expect(arrivals.look(seen({ a: '20' }), 1900)).toEqual([]);
    expect(arrivals.look(seen({ a: '20' }), 2000)).toEqual(['a']);
  });

  it('are handed out once more where that is asked for, but not before they are whole', () => {
    const arrivals = createArrivals(100);
    expect(arrivals.again('a')).toBe(false);
    arrivals.look(seen({ a: '1' }), 0);
    arrivals.again('a');
    expect(arrivals.look(seen({ a: '1' }), 50)).toEqual([]);
    arrivals.look(seen({ a: '1' }), 100);
    expect(arrivals.again('a')).toBe(true);
    expect(arrivals.look(seen({ a: '1' }), 110)).toEqual(['a']);
    expect(arrivals.look(seen({ a: '1' }), 300)).toEqual([]);
    arrivals.again('a');
    expect(arrivals.look(seen({ a: '2' }), 310)).toEqual([]);
    expect(arrivals.look(seen({ a: '2' }), 410)).toEqual(['a']);
    arrivals.look(seen({}), 500);
    expect(arrivals.again('a')).toBe(false);
  });

  it('do not hold each other up, and are new again after they were gone', () => {
    const arrivals = createArrivals(100);
    arrivals.look(seen({ a: '1', b: '1' }), 0);
    expect(arrivals.look(seen({ a: '1', b: '2' }), 100)).toEqual(['a']);
    expect(arrivals.look(seen({ b: '2' }), 150)).toEqual([]);
    arrivals.look(seen({ a: '1', b: '2' }), 200);
    expect(arrivals.look(seen({ a: '1', b: '2' }), 300)).toEqual(['a']);
  });
});
