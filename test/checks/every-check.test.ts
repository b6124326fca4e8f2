/** What holds for every check, so that a new one is tested the moment it is registered. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import Handlebars from 'handlebars';
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { measureName } from '../../src/archive/measures.ts';
import { zoneOf } from '../../src/base/zone.ts';
import type { Finding, Status } from '../../src/checks/check.ts';
import { CHECKS, checkOf } from '../../src/checks/registry.ts';
import { runChecks } from '../../src/checks/run.ts';
import { LIMIT_KEYS, type Session } from '../../src/manifest/session.ts';
import { loadContent } from '../../src/node/content.ts';
import { makeFormat } from '../../src/report/words/format.ts';
import { part, readSections, readSteps, render, type Section, toText } from '../../src/report/words/prose.ts';
import { factsOf } from '../../src/report/words/wording.ts';
import { nothing, START, session, standing, UNSTATED, week } from './analysis-fixture.ts';
import { link, wakeful } from './wakeful.ts';

const CHANNEL: Partial<Analysis> = { has: { current: true, temperature: true, channels: [true] } };

const SESSIONS: Readonly<Record<string, readonly [Analysis, Session]>> = {
  'usual week': [week(), session()],
  'woken by the clock': [
    wakeful({ everyS: 2220, seconds: 150, amps: 2.4, links: [link()], changes: CHANNEL }),
    session(),
  ],
  'woken at random': [
    wakeful({
      everyS: 2220,
      seconds: 150,
      amps: 2.4,
      byClock: false,
      links: [link({ chance: 0.5 })],
      changes: CHANNEL,
    }),
    session({ battery: { capacityAh: undefined } }),
  ],
  'woken cheaply': [wakeful({ everyS: 20_000, seconds: 30, amps: 1, links: [link()], changes: CHANNEL }), session()],
  'woken noticeably': [wakeful({ everyS: 3600, seconds: 60, amps: 2, story: { sleepA: 0.3 } }), session()],
  'woken rarely and dearly': [
    wakeful({
      everyS: 40_000,
      seconds: 900,
      amps: 3,
      byClock: false,
      story: { days: 2 },
      links: [link({ wakesSeen: 2 })],
      changes: CHANNEL,
    }),
    session(),
  ],
  'perhaps by a circuit': [
    wakeful({ everyS: 2220, seconds: 150, amps: 2.4, links: [link({ chance: 0.05 })], changes: CHANNEL }),
    session(),
  ],
  'held awake for hours': [wakeful({ everyS: 1e5, seconds: 9000, amps: 1.5 }), session()],
  'held awake for the time of the limit': [wakeful({ everyS: 1e5, seconds: 3610, amps: 1.5 }), session()],
  'high draw': [week({ sleepA: 0.3, restV: 12 }), session()],
  'one bad stand': [week({ sleepA: (k) => (k === 3 ? 0.2 : 0.02), settleS: (k) => (k === 3 ? 5000 : 900) }), session()],
  'never asleep': [week({ settleS: null, awakeA: 1.5 }), session()],
  'near every limit': [week({ sleepA: 0.05, settleS: 3600, restV: 12.4, crankV: 9.5, driveV: 14.6 }), session()],
  'weak start': [week({ crankV: 8.5, restV: 11.9 }), session()],
  'one weak start': [week({ crankV: (k) => (k === 3 ? 8.5 : 10) }), session()],
  'no charging': [week({ driveV: 12.2, driveA: -15 }), session()],
  'charging fails at times': [
    week({ driveV: (k) => (k < 3 ? 12.2 : 14.2), driveA: (k) => (k < 3 ? -15 : 5) }),
    session(),
  ],
  'voltage lowered': [week({ driveV: 12.8, driveA: 0.5 }), session()],
  'voltage low, not full': [week({ driveV: 12.9, driveA: 0.5, restV: 12 }), session()],
  'sometimes awake': [week({ settleS: (k) => (k === 6 ? null : 900), awakeA: 1.5 }), session()],
  'charging too high': [week({ driveV: 15.6 }), session()],
  'charging jumps': [week({ driveSwingV: 2 }), session()],
  'losing charge': [week({ driveA: 0.1, settleS: 1800, restV: 12.1 }), session()],
  'losing charge, still full': [week({ driveA: 0.1, settleS: 1800, restV: 12.7 }), session()],
  'charge falling': [
    week({ restV: (k) => 12.7 - k * 0.025 }),
    session({ limits: { restingCharge: { value: 0.2, source: 'test' } } }),
  ],
  'sensor reversed': [
    week({
      direction: {
        flipped: true,
        turned: null,
        agree: 0,
        against: 5,
        evidence: [{ what: 'step', agree: 0, against: 5 }],
      },
    }),
    session(),
  ],
  'sensor turned in mid-log': [
    week({
      direction: { flipped: false, turned: { start: START, end: START + 86_400 }, agree: 3, against: 3, evidence: [] },
    }),
    session(),
  ],
  'signs mixed': [week({ direction: { flipped: false, turned: null, agree: 3, against: 3, evidence: [] } }), session()],
  'holes in the log': [
    week({ missingS: 90_000, faults: [{ kind: 'gap', at: 1.77e9, count: 2, seconds: 90_000 }] }),
    session(),
  ],
  'log not quite whole': [
    week({ missingS: 2000, faults: [{ kind: 'frozen', at: null, count: 4, seconds: 60 }] }),
    session(),
  ],
  'voltage only': [week({ current: false }), session({ columns: { current: undefined } })],
  'no temperature': [week({ temperature: false }), session()],
  'nothing but voltage': [week({ current: false, temperature: false, driveV: 12.5 }), session()],
  'no accuracy stated': [week({ sleepA: 0.06 }), session(UNSTATED)],
  '24 V truck': [
    week({ scale: 2 }),
    session({ vehicle: { systemV: 24 }, battery: { capacityAh: 180, chemistry: 'efb' } }),
  ],
  electric: [
    week({ starter: false, chargerAh: 4 }),
    session({ vehicle: { powertrain: 'electric' }, battery: { chemistry: 'agm' } }),
  ],
  'hybrid with lfp': [
    week({ starter: false, restV: 13.2 }),
    session({ vehicle: { powertrain: 'hybrid' }, battery: { chemistry: 'lfp' } }),
  ],
  'little known': [week(), session({ battery: { capacityAh: undefined } })],
  'standing a day and a half': [standing(36), session()],
  'standing three hours': [standing(3), session()],
  'half an hour': [standing(0.5, { settleS: null }), session()],
  'next to nothing': [nothing(), session()],
};

const format = makeFormat('en-IE', zoneOf('UTC'));
const content = loadContent('en');
const prose = (file: string) => readSections(file, readFileSync(`content/en/${file}`, 'utf8'));
const shared = prose('reasons.md');
const cautions = prose('cautions.md').parts.map((section) => section.name);
const RUNNER_REASONS = [
  'no-current',
  'no-temperature',
  'no-channels',
  'not-fitted',
  'in-doubt',
  'unsure-states',
  'check-failed',
];
const STATUSES: readonly Status[] = ['fault', 'watch', 'clear', 'undecided'];

/** A section's parts with those of its plain status below, as the report takes them. */
function partOf(file: Section, finding: Finding, name: string): Section | undefined {
  return (
    part(part(file, `${finding.status}: ${finding.variant ?? finding.reason}`), name) ??
    part(part(file, finding.status), name)
  );
}

/** Names that the `type … = {…}` of a check's file give to its facts. */
function factNames(id: string): Set<string> {
  const source = readFileSync(`src/checks/${id}.ts`, 'utf8');
  const types = [...source.matchAll(/^type \w+ = \{([\s\S]*?)\};$/gm)].map(([, body]) => body);
  return new Set(types.flatMap((body) => [...body.matchAll(/readonly (\w+)\??:/g)].map(([, name]) => name)));
}

/** Names that a section takes, of whatever form: `{{mA drawA}}`, `{{#if several}}`, `{{channel}}`. */
function asked(node: hbs.AST.Node): string[] {
  if (node.type === 'Program') return (node as hbs.AST.Program).body.flatMap(asked);
  if (node.type !== 'MustacheStatement' && node.type !== 'BlockStatement') return [];
  const { path, params } = node as hbs.AST.MustacheStatement;
  const { program, inverse } = node as hbs.AST.BlockStatement;
  const named = [...(params.length > 0 ? params : [path])].filter(({ type }) => type === 'PathExpression');
  const inside = [program, inverse].flatMap((one) => (one ? asked(one) : []));
  return [...named.map((one) => (one as hbs.AST.PathExpression).original), ...inside];
}

describe.each(CHECKS.map((check) => [check.id, check] as const))('%s', (id, check) => {
  const file = prose(`checks/${id}.md`);

  test('has its own file, prose and test', () => {
    for (const path of [`src/checks/${id}.ts`, `content/en/checks/${id}.md`, `test/checks/${id}.test.ts`]) {
      expect(existsSync(path), path).toBe(true);
    }
  });

  test('asks a question, and has words for each status', () => {
    expect(toText(file.source)).toMatch(/\?$/);
    expect(part(file, 'method')?.source).not.toBe('');
    // What an open question needs may go by why it is open.
    const why = file.parts.flatMap(({ name }) => /^undecided: (.*)$/.exec(name)?.[1] ?? []);
    expect(why.filter((reason) => !check.reasons.includes(reason))).toEqual([]);
    for (const status of STATUSES) {
      for (const name of ['title', 'plain'])
        expect(part(part(file, status), name)?.source, `${status} ${name}`).toBeTruthy();
      if (status !== 'undecided') expect(part(part(file, status), 'detail')?.source, `${status} detail`).toBeTruthy();
      if (status !== 'clear') expect(part(part(file, status), 'next steps')?.source ?? id, status).toBeTruthy();
    }
  });

  test('gives whatever its prose asks for', () => {
    // What the runner adds, and what the first page gives to each.
    const given = new Set([
      ...factNames(id),
      'value',
      'U',
      'limit',
      'limitSource',
      'seen',
      'unseen',
      'concern',
      'oneNight',
      'fewDays',
      'standsLong',
      'follows',
      'wasOpen',
    ]);
    const takes = asked(Handlebars.parse(readFileSync(`content/en/checks/${id}.md`, 'utf8')));
    expect(takes.length).toBeGreaterThan(0);
    expect(takes.filter((name) => !given.has(name))).toEqual([]);
  });

  test('names only variants and reasons that it gives in its headings', () => {
    const own = readFileSync(`src/checks/${id}.ts`, 'utf8');
    const measures = [...own.matchAll(/from '\.\.\/(measures\/[\w-]+\.ts)'/g)].map(([, path]) => `src/${path}`);
    const source = [own, ...measures.map((path) => readFileSync(path, 'utf8'))].join('');
    const stories = [...file.parts, ...(part(file, 'in a few words')?.parts ?? [])]
      .flatMap(({ name }) => /^(?:first page: )?(?:\w+): (.+)$/.exec(name)?.[1] ?? [])
      .map((name) => name.replace(/^\w+: /, ''));
    const known = (name: string) => STATUSES.some((status) => status === name) || source.includes(`'${name}'`);
    expect(stories.filter((name) => !known(name))).toEqual([]);
    const brief = part(file, 'in a few words')?.parts.map(({ name }) => name) ?? [];
    expect(brief.filter((name) => !/^(question|follows(: .+)?)$/.test(name))).toEqual([]);
  });

  test('may follow from checks that there are, and names the figures that it compares', () => {
    const stated = check.causes ?? [];
    const causes = typeof stated === 'function' ? stated({ check: check.id, status: 'fault', cautions: [] }) : stated;
    expect(causes.filter((cause) => !checkOf(cause))).toEqual([]);
    for (const { name } of check.compared ?? []) expect(measureName(name, content)).not.toBe('');
  });

  test('has words for each reason, and none for a reason that it never gives', () => {
    for (const reason of [...check.reasons, ...RUNNER_REASONS]) {
      expect(part(part(file, 'reasons'), reason) ?? part(shared, reason), reason).toBeDefined();
    }
    const own = part(file, 'reasons')?.parts.map((section) => section.name) ?? [];
    expect(own.filter((reason) => !check.reasons.includes(reason))).toEqual([]);
  });

  test('names known cautions, and a source for each limit', () => {
    expect(check.cautions.filter((caution) => !cautions.includes(caution))).toEqual([]);
    for (const limit of check.limits) expect(limit.source).not.toBe('');
  });

  test('is undecided where a column that it needs is missing', () => {
    for (const need of check.needs) {
      const analysis = week();
      const has = { ...analysis.has, [need]: need === 'channels' ? [] : false };
      const [finding] = runChecks({ ...analysis, has }, session(), [check]);
      const reason = need === 'channels' ? 'not-fitted' : `no-${need}`;
      expect(finding).toMatchObject({ status: 'undecided', reason });
    }
  });

  test.each(Object.keys(SESSIONS))('answers: %s', (name) => {
    const [analysis, manifest] = SESSIONS[name];
    const [finding] = runChecks(analysis, manifest, [check]);
    expect(finding.reason, String(finding.facts?.cause)).not.toBe('check-failed');
    expect(finding.status === 'undecided').toBe(finding.reason !== undefined);
    if (finding.reason) expect([...check.reasons, ...RUNNER_REASONS]).toContain(finding.reason);
    if (finding.limit) expect(finding.limit.source).not.toBe('');
    if (finding.measured) expect(Number.isFinite(finding.measured.value)).toBe(true);
    for (const span of finding.evidence ?? []) {
      expect(span.from).toBeGreaterThanOrEqual(analysis.start);
      expect(span.to).toBeLessThanOrEqual(analysis.end);
    }
  });

  test.each(Object.keys(SESSIONS))('has words for what it answers: %s', (name) => {
    const [analysis, manifest] = SESSIONS[name];
    const [finding] = runChecks(analysis, manifest, [check]);
    const facts = factsOf(finding, content);
    const written = (section: Section | undefined) => (section ? render(id, section.source, facts, format) : '');
    const parts = ['title', 'plain', 'detail', 'next steps'].map((part) => written(partOf(file, finding, part)));
    const reason = finding.reason
      ? written(part(part(file, 'reasons'), finding.reason) ?? part(shared, finding.reason))
      : '';
    for (const text of [...parts, reason]) expect(text).not.toMatch(/NaN|Infinity|undefined|not known|\{\{/);
    expect(toText(parts[0]).length).toBeLessThan(90);
    readSteps(id, parts[3]);
    // A variant has words of its own, for its answer or for the first page.
    const own = `${finding.status}: ${finding.variant}`;
    if (finding.variant) expect(part(file, own) ?? part(file, `first page: ${own}`)).toBeDefined();
  });
});

test('the registry and the folders hold the same checks', () => {
  const files = readdirSync('content/en/checks').map((name) => name.replace('.md', ''));
  expect(files.toSorted()).toEqual(CHECKS.map((check) => check.id).toSorted());
});

test('each limit that a manifest may set belongs to a check, in the same unit', () => {
  const limits = CHECKS.flatMap((check) => check.limits);
  for (const [key, { unit }] of Object.entries(LIMIT_KEYS)) {
    expect(
      limits.find((limit) => limit.key === key),
      key,
    ).toMatchObject({ unit });
  }
});
