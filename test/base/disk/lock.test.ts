import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { withLock } from '../../../src/base/disk/lock.ts';

let out = '';
beforeEach(() => {
  out = mkdtempSync(join(tmpdir(), 'standstill-lock-'));
});
afterEach(() => rmSync(out, { recursive: true, force: true }));
const times = { staleMs: 200, tellMs: 0, retryMs: 5 };

describe('the lock of an archive', () => {
  it('lets one in at a time, tells whom it waits for, and leaves nothing behind', async () => {
    let inside = 0;
    const heard: string[] = [];
    const work = async () => {
      inside++;
      expect(inside).toBe(1);
      await sleep(20);
      inside--;
    };
    const say = (holder: string) => void heard.push(holder);
    await Promise.all([1, 2, 3].map(() => withLock(out, work, say, times)));
    expect(heard).toContain(`process ${process.pid} on ${hostname()}`);
    expect(readdirSync(out)).toEqual([]);
  });

  it('is kept for as long as the work takes, however short the time after which a lock is stale', async () => {
    const done: string[] = [];
    const long = async () => {
      await sleep(700);
      done.push('slow');
    };
    const slow = withLock(out, long, undefined, times);
    await sleep(50);
    await Promise.all([slow, withLock(out, async () => void done.push('quick'), undefined, times)]);
    expect(done).toEqual(['slow', 'quick']);
  });

  it('of a process of this machine that is gone is broken at once', async () => {
    writeFileSync(join(out, '.lock'), JSON.stringify({ pid: 2 ** 22 + 7, host: hostname() }));
    expect(await withLock(out, async () => 'in', undefined, { staleMs: 60_000, tellMs: 0, retryMs: 5 })).toBe('in');
  });

  it.each([
    ['of another machine', JSON.stringify({ pid: 1, host: 'elsewhere' })],
    ['that is not whole', '{"pid'],
  ])('%s is broken once nobody has refreshed it for long enough', async (_, text) => {
    writeFileSync(join(out, '.lock'), text);
    const began = performance.now();
    expect(await withLock(out, async () => 'in', undefined, times)).toBe('in');
    expect(performance.now() - began).toBeGreaterThan(times.staleMs);
    expect(readdirSync(out)).toEqual([]);
  });

  it('is given back when the work fails', async () => {
    const failing = withLock(out, () => Promise.reject(new Error('full')), undefined, times);
    await expect(failing).rejects.toThrow('full');
    expect(readdirSync(out)).toEqual([]);
  });
});
