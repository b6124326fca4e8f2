/** A folder for one customer, made through the command line: whole, and nothing of any other customer in it. */
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { recordingTerminal } from '../cli/terminal.ts';
import { changed, stored, withFinding } from './reports.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-hand-out-'));
const out = join(work, 'out');
let into = '';
let cases = 0;
beforeEach(() => {
  into = join(work, `to hand out ${cases++}`);
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Two visits of Ann's van, one each of Bob's and Cleo's cars; every text of a session has its owner's name in it. */
const SESSIONS = [
  { id: 'ann-1', owner: 'ann', day: 3, registration: '17-ANN-1' },
  { id: 'ann-2', owner: 'ann', day: 20, registration: '17 ann 1' },
  { id: 'bob-1', owner: 'bob', day: 5, registration: '18-BOB-1' },
  { id: 'cleo-1', owner: 'cleo', day: 9, registration: null },
];

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  return { code, ...terminal.said };
}
const handOut = (ids: string, to = into) => call('index', out, '--for', ids, '--into', to);

beforeAll(async () => {
  for (const { id, owner, day, registration } of SESSIONS) {
    const at = `2026-03-${String(day).padStart(2, '0')}T00:00:00.000Z`;
    const ailing = withFinding(stored(id, at), 'parked-draw', 'fault', { value: 0.06, unit: 'A', uncertainty: 0.001 });
    const report = changed(ailing, (own) => {
      Object.assign(own.session, {
        title: `title of ${owner}`,
        concern: `concern of ${owner}`,
        repair_order: `order of ${owner}`,
        technician: `technician of ${owner}`,
      });
      Object.assign(own.session.vehicle, { registration, vin: null, description: `vehicle of ${owner}` });
      own.findings = own.findings.map((finding) => ({ ...finding, title: `finding of ${owner}` }));
      if (id === 'ann-2') own.session.limits_from = { session: 'bob-1', sessions: [], left: [] };
    });
    const folder = join(out, 'sessions', id);
    mkdirSync(join(folder, 'charts'), { recursive: true });
    writeFileSync(join(folder, 'report.json'), JSON.stringify(report));
    writeFileSync(join(folder, 'index.html'), `report of ${owner}`);
    writeFileSync(join(folder, 'charts', 'a.vl.json'), `chart of ${owner}`);
    writeFileSync(join(folder, 'made-from.json'), '{}');
  }
  mkdirSync(join(out, 'sessions', 'bob-broken'));
  for (const [before, after] of [
    ['ann-1', 'ann-2'],
    ['bob-1', 'ann-2'],
    ['ann-1', 'cleo-1'],
  ])
    expect((await call('compare', before, after, '--out', out, '--no-pdf')).code).toBe(0);
  await call('index', out);
  await call('tables', '--out', out);
});

const filesIn = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) =>
      join(one.parentPath, one.name)
        .slice(folder.length + 1)
        .replaceAll('\\', '/'),
    )
    .sort();

function expectNothingOf(folder: string, owners: readonly string[]): void {
  for (const file of filesIn(folder)) {
    for (const owner of owners) {
      // "bob-1" as the source of limits is told on the terminal, and tested below.
      const text = readFileSync(join(folder, file), 'utf8').replaceAll('"limits_from":{"session":"bob-1",', '');
      expect(`${file}\n${text}`.toLowerCase(), `${owner} in ${file}`).not.toMatch(
        new RegExp(`of ${owner}|${owner}[-_ ]`),
      );
    }
  }
}

describe('a folder to hand out', () => {
  it('holds reports, index, vehicle and the comparison among them, and nothing of others', async () => {
    const { code, out: told, err } = await handOut('ann-1, ann-2');
    expect({ code, told }).toEqual({ code: 0, told: `${join(into, 'index.html')}\n` });
    expect(err).toContain('ann-1: vehicle of ann, 17-ANN-1\n');
    const files = filesIn(into).map((file) => file.replace(/^vehicles\/17ann1-\w+/, 'vehicles/17ann1'));
    expect(files).toEqual([
      'archive.css',
      'checks.html',
      'comparisons/ann-1--ann-2/charts/events.vl.json',
      'comparisons/ann-1--ann-2/charts/measures.vl.json',
      'comparisons/ann-1--ann-2/comparison.json',
      'comparisons/ann-1--ann-2/index.html',
      'fleet.html',
      'index.html',
      'months/2026-03.html',
      'sessions/ann-1/charts/a.vl.json',
      'sessions/ann-1/index.html',
      'sessions/ann-1/report.json',
      'sessions/ann-2/charts/a.vl.json',
      'sessions/ann-2/index.html',
      'sessions/ann-2/report.json',
      'vehicles/17ann1/index.html',
    ]);
    expectNothingOf(into, ['bob', 'cleo']);
    const index = readFileSync(join(into, 'index.html'), 'utf8');
    for (const word of ['sessions/ann-1/', 'sessions/ann-2/', 'finding of ann']) expect(index).toContain(word);
  });

  it('takes a registration for all sessions of that vehicle', async () => {
    expect((await handOut('17ann1')).code).toBe(0);
    expect(readdirSync(join(into, 'sessions'))).toEqual(['ann-1', 'ann-2']);
  });

  it('holds one session without a vehicle of its own', async () => {
    expect((await handOut('cleo-1')).code).toBe(0);
    expect(readdirSync(into).sort()).toEqual([
      'archive.css',
      'checks.html',
      'fleet.html',
      'index.html',
      'months',
      'sessions',
    ]);
    expectNothingOf(into, ['ann', 'bob']);
  });

  it('says which id of another session stands in a report, as the source of its limits', async () => {
    const { err } = await handOut('ann-2');
    expect(err).toContain('ann-2 took its limits from "bob-1": that id stands in its report');
    expect((await handOut('ann-2,bob-1', `${into} both`)).err).not.toContain('took its limits');
  });

  it('leaves the archive as it was', async () => {
    const before = filesIn(out);
    await handOut('ann-1');
    expect(filesIn(out)).toEqual(before);
    expect(readdirSync(work).filter((name) => name.startsWith('.'))).toEqual([]);
  });
});

describe('what is refused leaves nothing behind', () => {
  it.each<[string, string, RegExp]>([
    ['an unknown id', 'ann-3', /no session or vehicle "ann-3" in .*Did you mean ann-/],
    ['signs that are no name', '--', /no session or vehicle "--"/],
    ['a report that cannot be read', 'bob-broken', /bob-broken: report\.json is missing/],
  ])('%s', async (_, ids, message) => {
    const { code, err } = await handOut(ids);
    expect(code).toBe(1);
    expect(err).toMatch(message);
    expect(existsSync(into)).toBe(false);
    expect(readdirSync(work).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('a folder that holds something, that is a file, or that is in the archive', async () => {
    mkdirSync(into);
    expect((await handOut('ann-1')).code).toBe(0);
    const full = await handOut('bob-1');
    expect(full).toMatchObject({ code: 1, err: expect.stringContaining('is not empty') });
    expectNothingOf(into, ['bob']);
    expect((await handOut('ann-1', join(into, 'index.html'))).err).toContain('is a file');
    expect((await handOut('ann-1', join(out, 'sessions', 'new'))).err).toContain('lies in the archive itself');
  });

  it('one option without the other, and what is no archive', async () => {
    expect(await call('index', out, '--for', 'ann-1')).toMatchObject({ code: 2 });
    expect(await call('index', out, '--into', into)).toMatchObject({ code: 2 });
    expect(await call('index', out, '--for', 'ann-1,', '--into', into)).toMatchObject({ code: 2 });
    const none = await call('index', join(work, 'nowhere'), '--for', 'ann-1', '--into', into);
    expect(none).toMatchObject({ code: 1, err: expect.stringContaining('There is no folder') });
    expect(existsSync(join(work, 'nowhere'))).toBe(false);
  });
});
