import { expect, it } from 'vitest';
import { keyOf } from '../../src/archive/session-key.ts';

const FILES = [
  ['session.yaml', 'aa'],
  ['log.csv', 'bb'],
] as const;

it('changes with every option, name and hash, and with nothing else', () => {
  const key = keyOf({ language: 'en' }, FILES);
  expect(key).toMatch(/^[0-9a-f]{64}$/);
  expect(keyOf({ language: 'en' }, FILES)).toBe(key);
  const others = [
    keyOf({ language: 'de' }, FILES),
    keyOf({ language: 'en' }, [FILES[0]]),
    keyOf({ language: 'en' }, [FILES[0], ['log.csv', 'bc']]),
    keyOf({ language: 'en' }, [FILES[0], ['log2.csv', 'bb']]),
    // Where one name ends and a hash begins matters.
    keyOf({ language: 'en' }, [['session.yamla', 'a'], FILES[1]]),
  ];
  expect(new Set([key, ...others]).size).toBe(others.length + 1);
});
