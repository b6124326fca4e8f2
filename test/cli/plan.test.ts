import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { recordingTerminal } from './terminal.ts';

const WHOLE = [
  ...['--step', '100ms', '--row-bytes', '66', '--card', '2 GB', '--event-every', '36 h', '--times', '1'],
  ...['--confidence', '95 %', '--draw', '40 mA', '--capacity', '70 Ah', '--charge', '80 %'],
];

async function planned(...words: string[]) {
  const terminal = recordingTerminal();
  expect(await run(['plan', ...words, '--json'], terminal)).toBe(0);
  return JSON.parse(terminal.said.out);
}

describe('plan', () => {
  it('answers card, log and stand', async () => {
    const answer = await planned(...WHOLE);
    expect(answer.hours_on_card).toBeCloseTo(840, 0);
    expect(answer.hours_to_see).toBeCloseTo(-Math.log(0.05) * 36, 9);
    // From 80 % of 70 Ah: 20 Ah less the 14 Ah gone, and 40 % of 56 Ah; at 0.96 Ah a day 6.3 and 23.3 days; self-discharge takes from both.
    expect(answer.stand_days.low).toBeLessThan(6.3);
    expect(answer.stand_days.high).toBeLessThan(23.4);
    expect(answer.stand_days.high).toBeGreaterThan(22);
    expect(answer.may_stand).toBe('undecided');
  });

  it('needs longer for more events and for more confidence', async () => {
    const once = (await planned(...WHOLE)).hours_to_see;
    expect((await planned(...WHOLE, '--times', '3')).hours_to_see).toBeGreaterThan(2 * once);
    expect((await planned(...WHOLE, '--confidence', '99 %')).hours_to_see).toBeGreaterThan(1.5 * once);
  });

  it('says that the vehicle may not stand so long', async () => {
    expect((await planned(...WHOLE, '--draw', '900 mA')).may_stand).toBe('no');
  });

  it.each([
    ['--card', 'hours_on_card'],
    ['--event-every', 'hours_to_see'],
    ['--charge', 'stand_days'],
  ])('without %s, %s is null and the reason names it', async (option, key) => {
    const at = WHOLE.indexOf(option);
    const answer = await planned(...WHOLE.toSpliced(at, 2));
    expect(answer[key]).toBeNull();
    expect(answer.reasons[key]).toContain(option);
  });

  it('tells what the sensor can decide', async () => {
    const { limit } = await planned('--accuracy', '1 % + 5 mA', '--draw', '40 mA');
    expect(limit.uncertainty_a).toBeCloseTo((2 * Math.hypot(0.0005, 0.005)) / Math.sqrt(3), 9);
    expect(limit.decision).toBe('within');
    expect((await planned('--accuracy', '1 % + 5 mA', '--draw', '47 mA')).limit.decision).toBe('undecided');
  });

  it('gives a reason where no time is long enough', async () => {
    const words = ['--step', '1 s', '--draw', '40 mA', '--accuracy', '1 % + 5 mA', '--noise', '9 mA'];
    expect((await planned(...words, '--uncertainty', '1 mA')).reasons.hours_to_measure).toContain('however long');
    expect((await planned(...words, '--uncertainty', '10 mA')).hours_to_measure).toBeGreaterThan(0);
  });

  it('says in words what it says in numbers', async () => {
    const terminal = recordingTerminal();
    expect(await run(['plan', ...WHOLE], terminal)).toBe(0);
    expect(terminal.said.out.replaceAll(/\s/g, ' ')).toContain('108 h, 4.5 days');
    expect(Math.max(...terminal.said.out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it.each([
    ['--step', '100', 'without a unit'],
    ['--card', '2 G', 'GB'],
    ['--confidence', '100 %', 'plausible'],
    ['--times', '0', 'whole number'],
  ])('refuses %s %s with what is taken', async (option, text, words) => {
    const terminal = recordingTerminal();
    expect(await run(['plan', option, text], terminal)).toBe(2);
    expect(terminal.said.err).toContain(option);
    expect(terminal.said.err).toContain(words);
  });
});

describe('plan --like', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'standstill-plan-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  it('takes step and row size from a log', async () => {
    const rows = Array.from({ length: 50 }, (_, k) => `2026-03-03T17:40:${(10 + k / 4).toFixed(2)}Z,12.61,-0.040\n`);
    const file = join(folder, 'like.csv');
    await writeFile(file, `time,battery_v,battery_a\n${rows.join('')}`);
    const bytes = rows[0].length;
    const hours = (await planned('--like', file, '--card', '1 GB')).hours_on_card;
    expect(hours / (1e9 / bytes / 4 / 3600)).toBeCloseTo(1, 2);
    expect(hours).toBeLessThan(1e9 / bytes / 4 / 3600);
  });

  it('names a file that is not there, or holds no rows', async () => {
    const terminal = recordingTerminal();
    expect(await run(['plan', '--like', join(folder, 'none.csv')], terminal)).toBe(1);
    expect(terminal.said.err).toContain('none.csv');
    await writeFile(join(folder, 'prose.txt'), 'no rows here\nat all\n');
    expect(await run(['plan', '--like', join(folder, 'prose.txt')], terminal)).toBe(1);
    expect(terminal.said.err).toContain('No rows');
    expect(terminal.said.err).not.toContain('bug');
  });
});
