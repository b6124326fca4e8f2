/** A PDF that somebody is reading must not break the next build. */
import { expect, it } from 'vitest';
import { patientRename, type Renaming } from '../../../src/base/disk/patient-rename.ts';

/** Held for so many attempts. */
function holding(times: number, code: string, platform: NodeJS.Platform) {
  const seen = { attempts: 0, waitedMs: 0 };
  const how: Renaming = {
    platform,
    rename: async () => {
      if (seen.attempts++ < times) throw Object.assign(new Error(code), { code });
    },
    sleep: async (ms) => {
      seen.waitedMs += ms;
    },
  };
  return { seen, how };
}

it('waits for a program that lets go within two seconds, on Windows', async () => {
  for (const code of ['EBUSY', 'EPERM', 'EACCES']) {
    const { seen, how } = holding(5, code, 'win32');
    await patientRename('a', 'b', how);
    expect(seen.attempts).toBe(6);
  }
});

it('gives up on one that does not, and waits for nothing that no waiting mends', async () => {
  const held = holding(99, 'EBUSY', 'win32');
  await expect(patientRename('a', 'b', held.how)).rejects.toThrow('EBUSY');
  expect(held.seen.waitedMs).toBeGreaterThan(2000);
  for (const [code, platform] of [
    ['ENOSPC', 'win32'],
    ['EACCES', 'linux'],
  ] as const) {
    const { seen, how } = holding(99, code, platform);
    await expect(patientRename('a', 'b', how)).rejects.toThrow(code);
    expect(seen).toEqual({ attempts: 1, waitedMs: 0 });
  }
});
