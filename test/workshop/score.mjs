// Builds the workshop's vehicles with the compiled program and compares report.json with what was simulated.
// node test/workshop/score.mjs [FAMILY or VEHICLE…] [--keep FOLDER [--built]] [--fixed]; `--built` judges what the
// folder holds. Exit code 0 when every expectation holds.
// Each miss is printed with what was expected and what stands there; names still to come of the contract are counted apart.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { invariants } from './expect.mjs';
import { FIXED } from './fixed.mjs';
import { writeSession } from './logger.mjs';

const here = fileURLToPath(new URL('.', import.meta.url));
const program = join(here, '../../.build/bin/standstill.js');
const words = process.argv.slice(2);
const keep = words.includes('--keep') ? words[words.indexOf('--keep') + 1] : null;
const wanted = words.filter((w, k) => !w.startsWith('--') && words[k - 1] !== '--keep');

const vehicles = [];
for (const file of readdirSync(join(here, 'vehicles')).sort()) {
  const family = file.replace('.mjs', '');
  const { default: list } = await import(`./vehicles/${file}`);
  for (const [id, make] of Object.entries(list)) {
    const chosen = words.includes('--fixed')
      ? FIXED.includes(id)
      : !wanted.length || wanted.includes(family) || wanted.includes(id);
    if (chosen) vehicles.push({ id, family, make });
  }
}
if (!vehicles.length || !existsSync(program)) {
  console.log(vehicles.length ? 'compile first: npm run compile' : `no such family or vehicle: ${wanted.join(' ')}`);
  process.exit(2);
}

const work = keep ?? mkdtempSync(join(tmpdir(), 'workshop-'));
const out = join(work, 'out');
let bytes = 0;
for (const v of vehicles) {
  const { vehicle, manifest, format, expect } = v.make();
  v.folder = join(work, 'sessions', v.id);
  rmSync(v.folder, { recursive: true, force: true });
  if (!words.includes('--built')) rmSync(join(out, 'sessions', v.id), { recursive: true, force: true });
  writeSession(v.folder, v.id, vehicle, manifest, format);
  for (const f of readdirSync(join(v.folder, 'log'))) bytes += readFileSync(join(v.folder, 'log', f)).length;
  v.expect = [...expect(vehicle).flat(), ...invariants.map((e) => ({ ...e, always: true }))];
}

/** One call of the program for several sessions; resolves to what it said. */
const build = (list) =>
  new Promise((done) => {
    const child = spawn(process.execPath, [
      program,
      'build',
      ...list.map((v) => v.folder),
      '--out',
      out,
      '--no-pdf',
      '--quiet',
    ]);
    let said = '';
    child.stderr.on('data', (d) => {
      said += d;
    });
    child.on('close', () => done(said));
  });
const judge = (v) => {
  let report = null;
  try {
    report = JSON.parse(readFileSync(join(out, 'sessions', v.id, 'report.json'), 'utf8'));
  } catch {
    const said = (v.said || 'not built').split('\n').find((l) => l.includes(v.id)) ?? v.said?.slice(0, 200);
    return v.expect.map((e, k) => ({ ...e, ok: false, quiet: k > 0, seen: `no report: ${said}` }));
  }
  return v.expect.map((e) => {
    let ok = false;
    let seen = '';
    try {
      ok = e.holds(report) === true;
      if (!ok) seen = e.got?.(report);
    } catch (error) {
      seen = `threw ${error.message}`;
    }
    return { ...e, ok, seen };
  });
};

const NONE = { vehicles: 0, right: 0, held: 0, all: 0, laterHeld: 0, laterAll: 0 };
const open = new Map();
const sums = new Map(vehicles.map((v) => [v.family, { ...NONE }]));
/** Counts what holds of one vehicle's report, and prints what does not. */
const tell = (v) => {
  const results = judge(v);
  const s = sums.get(v.family);
  s.vehicles++;
  if (results.every((e) => e.later || e.ok)) s.right++;
  for (const e of results) {
    if (e.later) {
      s.laterAll++;
      if (e.ok) s.laterHeld++;
    } else {
      s.all++;
      if (e.ok) s.held++;
    }
    if (!e.ok && e.later && e.always) open.set(e.what, (open.get(e.what) ?? 0) + 1);
    else if (!e.ok && !e.quiet)
      console.log(
        `${v.family}/${v.id}: ${e.later ? '(to come) ' : ''}${e.what} — got ${String(e.seen ?? '').slice(0, 240)}`,
      );
  }
};

const began = Date.now();
const batches = [];
for (let k = 0; k < vehicles.length; k += 6) batches.push(vehicles.slice(k, k + 6));
const lane = async () => {
  for (let batch = batches.shift(); batch; batch = batches.shift()) {
    const said = words.includes('--built') ? '' : await build(batch);
    for (const v of batch) tell(Object.assign(v, { said }));
  }
};
await Promise.all(Array.from({ length: Math.min(2, availableParallelism()) }, lane));
const took = (Date.now() - began) / 1000;

for (const [what, n] of open) console.log(`(to come) ${what}: not yet in ${n} reports`);
console.log('\nfamily          vehicles  right  expectations  to come');
const sum = { ...NONE };
for (const [family, s] of sums) {
  for (const k of Object.keys(sum)) sum[k] += s[k];
  console.log(
    `${family.padEnd(16)}${String(s.vehicles).padStart(8)}${String(s.right).padStart(7)}${`${s.held}/${s.all}`.padStart(14)}${`${s.laterHeld}/${s.laterAll}`.padStart(9)}`,
  );
}
if (!keep) rmSync(work, { recursive: true, force: true });
console.log(
  `${(bytes / 1e6).toFixed(1)} MB of logs built in ${took.toFixed(0)} s; names to come: ${sum.laterHeld} of ${sum.laterAll} hold`,
);
console.log(
  `${sum.held} of ${sum.all} expectations hold over ${sum.vehicles} vehicles; ${sum.right} vehicles right in everything`,
);
process.exit(sum.held === sum.all ? 0 : 1);
