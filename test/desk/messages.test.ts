/** Whoever reads the desk in German reads no English: what the program tells of manifests and logs that are wrong has German words. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { type Problem, UserError } from '../../src/base/problem.ts';
import { readSample } from '../../src/log/sample/sample.ts';
import { readSession, resolveLogFiles } from '../../src/manifest/read-session.ts';
import { loadContent } from '../../src/node/content.ts';
import { diskIo } from '../../src/node/disk-io.ts';
import { readLogFiles } from '../../src/node/read-log-files.ts';
import { makeMessage } from '../../src/report/words/phrases.ts';

const { message } = loadContent('de');
/** Words that no German sentence has, outside of quotation marks and of what is written into session.yaml. */
const ENGLISH =
  /\b(the|of|found|expected|missing|such|which|cannot|its|is|are|with|without|and|or|not|where|has|say|holds)\b/i;
const OURS = /"[^"]*"|\b(where|value|name|at|text|with source)(?=[:,) ])|\blog\.[\w.]+|\b[a-z_]+_at\b|\{[^}]*\}/g;

function expectGerman(english: string) {
  const german = message(english);
  expect(german, english).not.toBe(english);
  expect(german.replaceAll(OURS, ''), german).not.toMatch(ENGLISH);
}

const folder = mkdtempSync(join(tmpdir(), 'standstill-messages-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const day = (k: number) => new Date(Date.UTC(2026, 2, 3, 12) + k * 1000).toISOString();
const LOG = `time,bat,amps\n${Array.from({ length: 50 }, (_, k) => `${day(k)},12.6,-0.04\n`).join('')}`;
const MANIFEST = `standstill: 1
session: {id: one, title: One, purpose: complaint, timezone: UTC}
vehicle: {description: Van, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: agm, capacity: 70 Ah}
log:
  files: [log.csv]
  columns:
    time: {name: time}
    voltage: {name: bat, unit: V}
    current: {name: amps, unit: A, positive: charging}
`;

async function problemsOf(manifest: string, log = LOG): Promise<readonly Problem[]> {
  writeFileSync(join(folder, 'session.yaml'), manifest);
  writeFileSync(join(folder, 'log.csv'), log);
  try {
    const session = readSession(folder, nodeFiles);
    await readLogFiles({ session, files: resolveLogFiles(session, nodeFiles), onBlock: () => {} });
    return [];
  } catch (error) {
    if (error instanceof UserError) return error.problems;
    throw error;
  }
}

describe('a manifest that is wrong', () => {
  it.each([
    ['timezone: UTC', 'timezone: Mars/Base'],
    ['timezone: UTC', 'timezone: Europe/Berlyn'],
    ['12 V}', '48 V}'],
    ['70 Ah', '70 mA'],
    ['70 Ah', '70'],
    ['70 Ah', '70 Ahh'],
    ['70 Ah', '1,234 Ah'],
    ['70 Ah', '99999 Ah'],
    ['70 Ah', '70 Ah, fitted: last May'],
    ['70 Ah', '70 Ah, standard: nobody'],
    ['id: one', 'id: my job/1'],
    ['id: one', 'id: aux'],
    ['id: one', 'id: one, odd: 1'],
    ['title: One, ', ''],
    ['title: One', 'title: ""'],
    ['complaint', 'customer complaint'],
    ['complaint', 'nothing of ours'],
    ['agm', 'wet'],
    ['unit: V}', 'unit: kV}'],
    ['unit: V}', '}'],
    ['unit: V}', 'unit: V, accuracy: good}'],
    ['unit: V}', 'unit: V, accuracy: 0 %}'],
    ['unit: V}', 'unit: V, accuracy: 80 %}'],
    ['{name: time}', '{name: time, format: yy-mm}'],
    ['{name: time}', '{name: time, format: elapsed-s}'],
    ['{name: time}', '{name: time, format: epoch-s}'],
    ['{name: time}', '{name: nosuch}'],
    ['{name: time}', '{name: 0}'],
    ['name: bat', 'name: amps'],
    ['name: bat', 'name: batt'],
    ['[log.csv]', '[lag.csv]'],
    ['[log.csv]', '["*.xlsx"]'],
    ['[log.csv]', '[../log.csv]'],
    ['[log.csv]', '[]'],
    ['[log.csv]', '[session.yaml]'],
    ['[log.csv]', 'log.csv'],
    ['log:', 'limits: {parked_draw: {max: 50 V}}\nlog:'],
    ['log:', 'limits: {parked_draw: 50}\nlog:'],
    ['log:', 'limits: {sleep_within: soon}\nlog:'],
    ['log:', 'limits: {charging_voltage: {min: 15 V, max: 14 V}}\nlog:'],
    ['log:', 'limits: {charging_voltage: {source: none}}\nlog:'],
    ['log:', 'limits: {from: one}\nlog:'],
    ['log:', 'install: {fitted_at: yesterday}\nlog:'],
    ['log:', 'install: {fitted_at: 2026-03-03T10:00, removed_at: 2026-03-02T10:00}\nlog:'],
    ['log:', 'install: {clock_checked: perhaps}\nlog:'],
    ['log:', 'notes: [{at: 2026-03-03T10:00}]\nlog:'],
    ['log:', 'photos: [picture.heic]\nlog:'],
    ['log:', 'photos: [picture.jpg]\nlog:'],
    ['log:', '\tlog:'],
    ['log:', 'title Flat\nlog:'],
    ['title: One', 'title: "One'],
    ['title: One', 'title: *one'],
    ['id: one', 'id: one, id: two'],
  ])('%s → %s', async (from, to) => {
    const problems = await problemsOf(MANIFEST.replace(from, to));
    expect(problems.length).toBeGreaterThan(0);
    for (const problem of problems) expectGerman(problem.message);
  });
});

describe('a log that is wrong', () => {
  it.each([
    ['nothing', ''],
    ['names alone', 'time,bat,amps\n'],
    ['other names', LOG.replace('time,bat,amps', 'when,plus,draw')],
    ['one name twice', LOG.replace('time,bat,amps', 'time,bat,bat')],
    ['other units', LOG.replace('time,bat,amps\n', 'time,bat,amps\n,mV,A\n')],
    ['volts that are none', LOG.replaceAll('12.6', '1260')],
    ['a web page', `<!doctype html><html>${LOG}`],
    ['a PDF', `%PDF-1.7 ${LOG}`],
    ['days that could be months', LOG.replaceAll(/2026-03-03T/g, '03/04/2026 ').replaceAll('.000Z', '')],
    ['times without a day', LOG.replaceAll(/2026-03-03T/g, '').replaceAll('.000Z', '')],
    ['commas in quotes', LOG.replaceAll(',12.6,-0.04', ',"12,600","1,234"')],
    [
      'a row for each value',
      `time,what,bat,amps\n${Array.from({ length: 60 }, (_, k) => `${day(k)},${k % 2 ? 'Engine speed,800' : 'Battery voltage,12.6'},0\n`).join('')}`,
    ],
  ])('%s', async (_what, log) => {
    const problems = await problemsOf(MANIFEST, log);
    expect(problems.length).toBeGreaterThan(0);
    for (const problem of problems) expectGerman(problem.message);
  });

  it('why a column is proposed', async () => {
    for (const text of [
      LOG,
      'time [s];U_Bat;Strom;Temp [°C];x_v\n'.concat('0;12,6;1;20;1\n1;12,6;1;20;1\n2;12,5;1;20;1\n'),
      '1,2,3\n2,3,4\n3,4,5\n',
    ]) {
      writeFileSync(join(folder, 'sample.csv'), text);
      const { time, voltage, current, temperature, channels } = await readSample(
        join(folder, 'sample.csv'),
        'sample.csv',
        diskIo,
      );
      for (const column of [time, voltage, current, temperature, ...channels]) if (column) expectGerman(column.reason);
    }
    writeFileSync(join(folder, 'sample.csv'), 'no rows\n');
    await expect(readSample(join(folder, 'sample.csv'), 'sample.csv', diskIo)).rejects.toSatisfy((error: UserError) => {
      for (const problem of error.problems) expectGerman(problem.message);
      return true;
    });
  });
});

it('what stands in quotes is left as it was found, and what no message is stays as it is', () => {
  expect(message('Found "a list. Expected: this or that". Expected: true or false.')).toContain(
    '"a list. Expected: this or that"',
  );
  expect(message('Nobody has said this.')).toBe('Nobody has said this.');
  expect(makeMessage(new Map())('Missing.')).toBe('Missing.');
});
