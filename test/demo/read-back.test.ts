/** What the writer writes, our own manifest and log readers must read back: each holds the other to its word. */

import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { GERMAN_STYLE, type LogStyle } from '../../src/demo/log-text.ts';
import { demoSessions } from '../../src/demo/scenarios.ts';
import { type DemoSession, writeSession } from '../../src/demo/write-session.ts';
import { readSession, resolveLogFiles } from '../../src/manifest/read-session.ts';
import { readLogFiles } from '../../src/node/read-log-files.ts';
import { randomSession } from '../sweep/random-session.ts';
import { disk } from './disk.ts';
import { logOf, SMALL } from './small-scenario.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'standstill-back-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Rows that differ from the simulation by more than half a step of their last digit, and faults that the reader told. */
async function differences(
  session: DemoSession,
  name: string,
): Promise<{ rows: number; off: number; faults: string[] }> {
  const path = join(folder, name);
  await writeSession(path, session, disk);
  const read = readSession(path, nodeFiles);
  const { t, v, i } = logOf(session.scenario);
  const { style } = session;
  const allowedV = 0.51 * 10 ** -style.digits.v * (style.voltageUnit === 'mV' ? 1e-3 : 1);
  const allowedA = 0.51 * 10 ** -style.digits.i * (style.currentUnit === 'mA' ? 1e-3 : 1);
  let [row, off] = [0, 0];
  const account = await readLogFiles({
    session: read,
    files: resolveLogFiles(read, nodeFiles),
    onBlock: (block) => {
      for (let k = 0; k < block.n; k++, row++) {
        const sameTime = Math.abs(block.t[k] - t[row]) < 0.0011;
        const sameV = Math.abs(block.v[k] - v[row]) <= allowedV;
        const sameA = Math.abs(block.i[k] - i[row]) <= allowedA || (Number.isNaN(i[row]) && Number.isNaN(block.i[k]));
        if (!(sameTime && sameV && sameA)) off++;
      }
    },
  });
  return { rows: row - t.length, off, faults: account.faults.map((fault) => fault.kind) };
}

describe('sessions read back', () => {
  it.each([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11])('invented session %i is read as it was simulated', async (number) => {
    const session = randomSession(number, { plain: true, days: 0.5, stepS: 5 });
    expect(await differences(session, `random-${number}`)).toEqual({ rows: 0, off: 0, faults: [] });
  });

  it('settles the hour that comes twice by the order of the rows', async () => {
    const start = Date.UTC(2025, 9, 25, 22) / 1000;
    const session: DemoSession = {
      scenario: { ...SMALL, start, drives: [] },
      words: {
        session: { id: 'twice', title: 'Clock change', purpose: 'baseline', timezone: 'Europe/Berlin' },
        vehicle: { description: 'simulated' },
        battery: {},
      },
      style: GERMAN_STYLE satisfies LogStyle,
    };
    const { rows, off, faults } = await differences(session, 'twice');
    expect({ rows, off }).toEqual({ rows: 0, off: 0 });
    expect(faults.every((kind) => kind === 'ambiguous-time')).toBe(true);
  });

  it('takes the manifests of the demo', async () => {
    for (const demo of demoSessions()) {
      const short = { ...demo, scenario: { ...demo.scenario, seconds: 600 } };
      const path = join(folder, demo.words.session.id);
      await writeSession(path, short, disk);
      const session = readSession(path, nodeFiles);
      expect(session.id).toBe(demo.words.session.id);
      expect(session.battery.capacityAh).toBe(demo.scenario.battery.capacityAh);
      expect(session.notes.map((note) => note.atMs / 1000)).toEqual(demo.words.notes?.map((note) => note.at));
      expect(session.install.fittedAtMs).toBe((demo.words.install?.fittedAt as number) * 1000);
    }
  });
});
