import { expect, it } from 'vitest';
import { idsOfPair, isOfPair, pairName } from '../../../src/archive/comparison/pairs.ts';

const among =
  (...ids: readonly string[]) =>
  (id: string) =>
    ids.includes(id);

it('reads the two ids out of a name, though ids hold hyphens themselves', () => {
  expect(idsOfPair(pairName('van', 'van-repaired'), among('van', 'van-repaired'))).toEqual(['van', 'van-repaired']);
  expect(idsOfPair('a--b--c', among('a--b', 'c'))).toEqual(['a--b', 'c']);
  expect(idsOfPair('a--b--c', among('a', 'b--c'))).toEqual(['a', 'b--c']);
  expect(idsOfPair('a--b', among('a'))).toBeNull();
});

it('knows whose a pair is', () => {
  expect(isOfPair('van--van-repaired', 'van')).toBe(true);
  expect(isOfPair('van--van-repaired', 'van-repaired')).toBe(true);
  expect(isOfPair('van--van-repaired', 'repaired')).toBe(false);
});
