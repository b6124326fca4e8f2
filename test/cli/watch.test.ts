import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { watch } from '../../src/cli/watch.ts';
import { recordingTerminal } from './terminal.ts';

let work = '';
beforeEach(() => {
  work = mkdtempSync(join(tmpdir(), 'standstill-watch-'));
});
afterEach(() => rmSync(work, { recursive: true, force: true }));
const options = () => ({ out: join(work, 'out'), pdf: false, page: 'a4', redact: false, jobs: 1 }) as const;

/** A world in which each look is 3 s later; `before` does something ahead of a look, the last one ends the watch. */
function world(looks: number, before: (look: number) => void = () => {}) {
  const stop = new AbortController();
  let look = 0;
  const sleep = async () => {
    look++;
    before(look);
    if (look >= looks) stop.abort();
  };
  return { signal: stop.signal, now: () => look * 3000, sleep };
}

describe('standstill watch', () => {
  it('leaves a session alone while it is copied, then builds it once, and goes on where it cannot', async () => {
    const drop = join(work, 'drop');
    mkdirSync(join(drop, 'broken'), { recursive: true });
    const terminal = recordingTerminal();
    // Grows until the fifth look, is whole 10 s later at the ninth; then nothing new happens.
    const grow = (look: number) => {
      if (look <= 5) writeFileSync(join(drop, 'broken', 'session.yaml'), `standstill: 1\n${'# \n'.repeat(look)}`);
    };
    await watch(drop, options(), terminal, world(8, grow));
    expect(terminal.said.err).not.toContain('could not be reported');
    await watch(drop, options(), terminal, world(12));
    expect(terminal.said.err.match(/1 of 1 sessions could not be reported/g)).toHaveLength(1);
  });

  it('says once that the share is away, and goes on when it is back', async () => {
    const drop = join(work, 'drop');
    mkdirSync(drop);
    const terminal = recordingTerminal();
    const away = (look: number) => {
      if (look === 1) rmSync(drop, { recursive: true });
      if (look === 5) mkdirSync(drop);
    };
    expect(await watch(drop, options(), terminal, world(7, away))).toBe(0);
    expect(terminal.said.err.match(/it is tried again/g)).toHaveLength(1);
  });

  it('refuses what is no folder to watch', async () => {
    const terminal = recordingTerminal();
    await expect(watch(join(work, 'none'), options(), terminal, world(1))).rejects.toThrow(/is no folder/);
    writeFileSync(join(work, 'session.yaml'), '');
    await expect(watch(work, options(), terminal, world(1))).rejects.toThrow(/is a session itself/);
  });
});
