import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const score = fileURLToPath(new URL('score.mjs', import.meta.url));

it('the fixed vehicles of the workshop come out right in everything', () => {
  const run = spawnSync(process.execPath, [score, '--fixed'], { encoding: 'utf8' });
  expect(run.stdout.trim().split('\n').at(-1)).toMatch(
    /^(\d+) of \1 expectations hold over (\d+) vehicles; \2 vehicles right/,
  );
  expect(run.status).toBe(0);
}, 180_000);
