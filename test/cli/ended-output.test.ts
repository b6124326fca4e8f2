import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { resolve } from 'node:path';
import { text } from 'node:stream/consumers';
import { expect, test } from 'vitest';

const PROGRAM = resolve(import.meta.dirname, '../../.build/cli/standstill.js');

test.each(['checks', 'checks --json', 'schema'])('%s to a reader that stops at once ends in order', async (words) => {
  const child = spawn(process.execPath, [PROGRAM, ...words.split(' ')], { stdio: ['ignore', 'pipe', 'pipe'] });
  child.stdout.destroy();
  const [told, [code]] = await Promise.all([text(child.stderr), once(child, 'close')]);
  expect({ told, code }).toEqual({ told: '', code: 0 });
});
