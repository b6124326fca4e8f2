import { expect, it } from 'vitest';
import { makePhrase } from '../../../src/report/words/phrases.ts';

const phrase = makePhrase(
  new Map([
    ['source.common practice, no source', 'übliche Praxis, ohne Quelle'],
    ['found.line {line} of "{name}" (twice)', 'Zeile {line} von „{name}“ (doppelt)'],
    ['found.line {line}', 'Zeile {line}'],
  ]),
);

it('says a phrase of ours, and passes on what differs', () => {
  expect(phrase('source', 'common practice, no source')).toBe('übliche Praxis, ohne Quelle');
  expect(phrase('found', 'line 7 of "a.csv" (twice)')).toBe('Zeile 7 von „a.csv“ (doppelt)');
  expect(phrase('found', 'line 7')).toBe('Zeile 7');
});

it('leaves what is none of ours, or of another kind, in its own words', () => {
  expect(phrase('source', 'service manual, page 3')).toBe('service manual, page 3');
  expect(phrase('applies', 'common practice, no source')).toBe('common practice, no source');
});

it('takes signs in a phrase as they stand, and a place in what is passed on for no place', () => {
  expect(phrase('found', 'line 7 of "a.csv" twice')).not.toContain('doppelt');
  expect(phrase('found', 'line {name}')).toBe('Zeile {name}');
});
