import fc from 'fast-check';
import { expect, it } from 'vitest';
import { UserError } from '../../src/base/problem.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { EXAMPLE, exampleFiles, FOLDER } from './example.ts';

function readOrRefuse(manifest: string): void {
  try {
    readSession(FOLDER, exampleFiles(manifest));
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    const lines = manifest.split('\n').length;
    expect(error.problems.length).toBeGreaterThan(0);
    for (const problem of error.problems) {
      expect(problem.file).toBe('session.yaml');
      expect(problem.message).not.toMatch(/undefined|\[object|NaN|Invalid input/);
      expect(problem.message).not.toMatch(/[\p{Cc}]/u);
      expect(problem.line ?? 1).toBeLessThanOrEqual(lines);
    }
  }
}

const LINES = EXAMPLE.split('\n');

it('the example with any characters replaced is read or refused, never a crash', () => {
  const junk = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 6 }),
    fc.constantFrom(
      '',
      '\n',
      '  ',
      '\t',
      ': ',
      '- ',
      '[',
      ']',
      '{',
      '}',
      '"',
      "'",
      '#',
      '&a ',
      '*a',
      '!!map ',
      '|',
      '>',
      '? ',
      '<<: ',
      '---\n',
      '%',
      '\u2028',
      '\ud800',
    ),
  );
  const edit = fc.tuple(fc.nat(EXAMPLE.length), fc.nat(12), junk);
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 3 }), (edits) => {
      readOrRefuse(edits.reduce((text, [at, gone, put]) => text.slice(0, at) + put + text.slice(at + gone), EXAMPLE));
    }),
    { numRuns: 400 },
  );
});

it('the example with lines lost, doubled or swapped is read or refused', () => {
  const line = fc.nat(LINES.length - 1);
  fc.assert(
    fc.property(line, line, fc.constantFrom('lose', 'double', 'swap'), (a, b, what) => {
      const lines = [...LINES];
      if (what === 'lose') lines.splice(a, 1);
      else if (what === 'double') lines.splice(b, 0, lines[a]);
      else [lines[a], lines[b]] = [lines[b], lines[a]];
      readOrRefuse(lines.join('\n'));
    }),
    { numRuns: 300 },
  );
});

it('any value in any place is read or refused', () => {
  const value = fc.oneof(
    fc.json({ maxDepth: 2 }),
    fc.constantFrom(
      'null',
      '~',
      '.nan',
      '.inf',
      '0x1F',
      '1e999',
      '-0',
      '2026-03-03',
      '""',
      '[]',
      '{}',
      '{a}',
      '12 V',
      '5 min',
      'yes',
    ),
  );
  const places = LINES.flatMap((text, index) => (/^ *\w+: \S/.test(text) ? [index] : []));
  fc.assert(
    fc.property(fc.constantFrom(...places), value, (index, text) => {
      const lines = [...LINES];
      lines[index] = lines[index].replace(/: .*/, () => `: ${text}`);
      readOrRefuse(lines.join('\n'));
    }),
    { numRuns: 400 },
  );
});
