/** Building many sessions into one archive, also twice and at once. */
import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeArchiveIndex } from '../../src/archive/index-page.ts';
import { laySession as layParked, run, stamp } from './parked-session.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-build-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const laySession = (id: string, drawA?: number, more?: string) => layParked(join(work, id), id, drawA, more);

let folders: string[] = [];
beforeAll(() => {
  folders = ['one', 'two', 'three'].map((id) => laySession(id));
});

describe('building a second time', () => {
  const out = join(work, 'again');

  it('analyses what has changed and nothing else', async () => {
    expect(await run(folders, out)).toMatchObject({ code: 0, err: '' });
    const before = ['one', 'two', 'three'].map((id) => stamp(out, id));
    laySession('two', 0.09);
    const second = await run(folders, out);
    expect(second.out.split('\n')).toHaveLength(4);
    const after = ['one', 'two', 'three'].map((id) => stamp(out, id));
    expect([after[0], after[2]]).toEqual([before[0], before[2]]);
    expect(after[1]).toBeGreaterThan(before[1]);
  });

  it('notices a log that was changed without a sign but the time of the change', async () => {
    const log = join(folders[2], 'log.csv');
    const { atime, mtime } = statSync(log);
    const text = readFileSync(log, 'utf8');
    const made = stamp(out, 'three');
    writeFileSync(log, text.replaceAll('-0.020', '-0.030'));
    utimesSync(log, atime, mtime);
    expect(statSync(log)).toMatchObject({ size: Buffer.byteLength(text), mtime });
    await run(folders, out);
    expect(stamp(out, 'three')).toBeGreaterThan(made);
  });

  it('reads no log again that nobody wrote to, and is not misled by one that was only touched', async () => {
    const note = () => JSON.parse(readFileSync(join(out, 'sessions', 'three', 'made-from.json'), 'utf8'));
    const made = stamp(out, 'three');
    const noted = note().logs[0].sha256;
    expect(noted).toBe(
      createHash('sha256')
        .update(readFileSync(join(folders[2], 'log.csv')))
        .digest('hex'),
    );
    utimesSync(join(folders[2], 'log.csv'), new Date(), new Date());
    await run(folders, out);
    expect(stamp(out, 'three')).toBe(made);
    // Another hash in the note would make another key: so it is the note that was asked.
    laySession('noted');
    await run([join(work, 'noted')], out);
    const file = join(out, 'sessions', 'noted', 'made-from.json');
    const before = stamp(out, 'noted');
    writeFileSync(file, readFileSync(file, 'utf8').replace(/"sha256":"\w/, '"sha256":"x'));
    await run([join(work, 'noted')], out);
    expect(stamp(out, 'noted')).toBeGreaterThan(before);
  });

  it('makes again what was damaged, and what other options ask for', async () => {
    const report = join(out, 'sessions', 'one', 'report.json');
    const whole = readFileSync(report, 'utf8');
    writeFileSync(report, whole.slice(0, 100));
    await run(folders, out);
    expect(readFileSync(report, 'utf8')).toBe(whole);
    await run([folders[0]], out, { redact: true });
    expect(JSON.parse(readFileSync(report, 'utf8')).session.vehicle.registration).toBeNull();
  });
});

describe('a complaint of a vehicle whose model is known', () => {
  const out = join(work, 'model');
  const of = (id: string, drawA: number, purpose: string) => {
    const folder = laySession(id, drawA);
    const manifest = join(folder, 'session.yaml');
    const text = readFileSync(manifest, 'utf8').replace('purpose: complaint', `purpose: ${purpose}`);
    writeFileSync(manifest, text.replace('description: Small car', 'description: Small car, model: Small'));
    return folder;
  };
  const against = () =>
    JSON.parse(readFileSync(join(out, 'sessions', 'complaining', 'report.json'), 'utf8')).against_model;

  it('is built after the baselines, held against them, and made again when there are more', async () => {
    const draws = [0.02, 0.0205, 0.021, 0.0195, 0.02];
    const [last = '', ...healthy] = draws.map((draw, k) => of(`normal-${k}`, draw, 'baseline'));
    const complaining = of('complaining', 0.04, 'complaint');
    expect(await run([complaining, ...healthy], out)).toMatchObject({ code: 0, err: '' });
    expect(against()).toMatchObject({ from: 'model', vehicles: 4 });
    expect(against().figures[0]).toMatchObject({ figure: 'state-current', method: 'seen', outside: false });
    const made = stamp(out, 'complaining');
    await run([complaining], out);
    expect(stamp(out, 'complaining')).toBe(made);
    await run([complaining, last], out);
    expect(against().figures[0]).toMatchObject({ figure: 'state-current', vehicles: 5, outside: true });
    const page = readFileSync(join(out, 'sessions', 'complaining', 'index.html'), 'utf8');
    expect(page).toMatch(/1\sfigure lies outside what is normal for the model, most of all: Draw asleep/);
    expect(readdirSync(join(out, 'models')).sort()).toEqual([
      expect.stringMatching(/\.html$/),
      expect.stringMatching(/\.vl\.json$/),
    ]);
  });
});

describe('a session that takes its limits from another', () => {
  const out = join(work, 'leaning');
  const drawLimit = () =>
    JSON.parse(readFileSync(join(out, 'sessions', 'leaning', 'report.json'), 'utf8')).findings.find(
      (finding: { check: string }) => finding.check === 'parked-draw',
    ).limit;

  it('comes after it, and says what it took and what it could not', async () => {
    const leaning = laySession('leaning', 0.045, 'limits: {from: healthy}\n');
    const { code, err, out: told } = await run([leaning, laySession('healthy')], out);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(told.trim().split('\n')[1]).toContain('leaning');
    expect(drawLimit().source).toMatch(/^Session healthy: 21\smA/);
    const { session, findings } = JSON.parse(readFileSync(join(out, 'sessions', 'leaning', 'report.json'), 'utf8'));
    expect(session.limits.map(({ key }: { key: string }) => key)).toEqual(['parkedDraw']);
    expect(session.limits_from).toMatchObject({
      session: 'healthy',
      left: [{ key: 'sleepWithin' }, { key: 'crankingVoltage' }],
    });
    const settling = findings.find((finding: { check: string }) => finding.check === 'sleep-time');
    expect(settling.limit.source).toMatch(/^common practice, no source; session healthy gives none/);
  });

  it('is made again when that one gives other limits, and only then', async () => {
    const [before, made] = [drawLimit().value, stamp(out, 'leaning')];
    await run([join(work, 'leaning')], out);
    expect(stamp(out, 'leaning')).toBe(made);
    laySession('healthy', 0.025);
    await run([join(work, 'healthy'), join(work, 'leaning')], out);
    expect(drawLimit().value).toBeGreaterThan(before);
  });

  it('is not reported where there is no such session, and the others are', async () => {
    const lost = laySession('lost', 0.02, 'limits: {from: nowhere}\n');
    const { code, err } = await run([lost, join(work, 'healthy')], out);
    expect(code).toBe(1);
    expect(err).toMatch(/session\.yaml:11:16 limits\.from: There is no session "nowhere" in /);
  });
});

describe('building many', () => {
  it('goes on where one fails, and names it', async () => {
    const out = join(work, 'some');
    const { code, err, out: told } = await run([folders[0], join(work, 'missing'), folders[2]], out);
    expect(code).toBe(1);
    expect(err).toContain(join(work, 'missing'));
    expect(err).toContain('1 of 3 sessions could not be reported.');
    expect(told.trim().split('\n')).toHaveLength(2);
  });

  it('refuses one id in two folders, and takes one folder that is named twice once', async () => {
    const other = join(work, 'same-id');
    cpSync(folders[0] as string, other, { recursive: true });
    const { code, err, out } = await run([folders[0], other, `${folders[0]}/.`], join(work, 'double'));
    expect(code).toBe(1);
    expect(out.trim().split('\n')).toHaveLength(1);
    expect(err).toContain('each session of an archive needs its own');
  });

  it('of two builds at once into one archive loses none', async () => {
    const out = join(work, 'shared');
    const both = await Promise.all([run([folders[0]], out), run([folders[1], folders[2]], out)]);
    expect(both.map(({ code }) => code)).toEqual([0, 0]);
    const index = readFileSync(join(out, 'index.html'), 'utf8');
    for (const id of ['one', 'two', 'three']) expect(index).toContain(`sessions/${id}/index.html`);
  });

  it('apart and joined gives the same archive as in one go', async () => {
    const [whole, ...parts] = ['whole', 'part-1', 'part-2', 'joined'].map((name) => join(work, name));
    await run(folders.slice(1), whole);
    await run([folders[1]], parts[0]);
    await run([folders[2]], parts[1]);
    for (const part of parts.slice(0, 2))
      cpSync(join(part, 'sessions'), join(parts[2], 'sessions'), { recursive: true });
    await writeArchiveIndex(parts[2], { desk: true });
    for (const file of ['index.html', 'sessions/two/report.json', 'sessions/three/index.html']) {
      expect(readFileSync(join(parts[2], file), 'utf8'), file).toBe(readFileSync(join(whole, file), 'utf8'));
    }
  });

  it('says so where the archive cannot be written', async () => {
    const file = join(work, 'a-file');
    writeFileSync(file, '');
    await expect(run(folders, join(file, 'out'))).rejects.toThrow(/cannot be written: a file is in the way/);
  });
});
