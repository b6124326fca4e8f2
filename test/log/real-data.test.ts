/** Real open data beside the checkout, where it is there; its README names sources and licences. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { diskIo } from '../../src/node/disk-io.ts';
import { fault, kinds, readFrom, sessionWith } from './helpers.ts';

const DATA = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

function extremes(values: readonly number[]): [number, number, number] {
  const seen = values.filter((value) => !Number.isNaN(value));
  return [seen.length, Math.min(...seen), Math.max(...seen)];
}

describe.skipIf(!existsSync(DATA))('real logs', () => {
  it('ten days of a lead-acid battery', async () => {
    const session = {
      ...sessionWith({
        columns: {
          voltage: { name: 'voltage', unit: 'V' },
          current: { name: 'current', unit: 'A', positive: 'discharging' },
          temperature: { name: 'temperature', unit: '°C' },
        },
      }),
      folder: `${DATA}lead-acid-telemetry`,
    };
    const { t, v, i, temp, account } = await readFrom(diskIo, ['ten-days.csv'], session);
    // Counted with another reader (Python's csv module).
    expect(account).toMatchObject({ rows: 13_221, rowsRejected: 0, linesIgnored: 1 });
    expect(t).toHaveLength(13_221);
    expect(t[0]).toBe(Date.UTC(2017, 2, 25, 7, 0, 6, 900) / 1000);
    expect(new Set(kinds(account))).not.toContain('unreadable-row');
    expect({ v: extremes(v), i: extremes(i), temp: extremes(temp) }).toEqual({
      v: [12_726, 10.427893492, 14.6772259098],
      // The file has a draw as positive.
      i: [12_726, -3.05722133211, 3.046692607],
      temp: [1482, 18.1872281987, 31.4373998627],
    });
  });

  it('fifty minutes of an engine controller', async () => {
    const session = {
      ...sessionWith({
        columns: {
          time: { name: 'Time', format: 'elapsed-s' },
          voltage: { name: 'Battery V', unit: 'V' },
          current: undefined,
          temperature: undefined,
        },
        log: { startMs: 0 },
      }),
      folder: `${DATA}engine-cranks`,
    };
    const { t, v, account } = await readFrom(diskIo, ['run.csv'], session);
    expect(account).toMatchObject({ rows: 27_616, rowsRejected: 0, linesIgnored: 2 });
    expect(t[t.length - 1]).toBe(3130.063);
    const gaps = account.faults.filter(({ kind }) => kind === 'gap');
    // Those over 2 s; 13 are over 1 s, of which the longest are 421 s and 711 s.
    expect(gaps.map(({ seconds }) => Number(seconds.toFixed(1)))).toEqual([
      7.3, 8.7, 7.9, 421.4, 2.8, 710.9, 8.8, 9, 7.7,
    ]);
    expect(fault(account, 'gap').at).toBe(250.192);
    // While the controller was without power its voltage swings from 0.3 V to 25 V and back in each second.
    const impossible = account.faults.filter(({ kind }) => kind === 'out-of-range');
    const count = impossible.reduce((sum, fault) => sum + fault.count, 0);
    expect(count).toBe(v.filter(Number.isNaN).length);
    expect(count).toBeGreaterThan(4000);
    expect(count).toBeLessThan(4600);
    expect(Math.max(...v.filter((volts) => !Number.isNaN(volts)))).toBeLessThanOrEqual(16.5);
  });
});
