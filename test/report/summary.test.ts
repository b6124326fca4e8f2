import { describe, expect, it } from 'vitest';
import { there } from '../../src/base/there.ts';
import { CHECKS } from '../../src/checks/registry.ts';
import { loadContent } from '../../src/node/content.ts';
import { headlines, summarise } from '../../src/report/summary.ts';
import { makeFormat } from '../../src/report/words/format.ts';
import { part, readSections, toText } from '../../src/report/words/prose.ts';
import { drawFault, plain, sampleReport } from './sample.ts';

const ranked = (check: string, status: 'fault' | 'watch' | 'clear' | 'undecided', follows: string | null = null) => ({
  check,
  status,
  follows,
});
const format = makeFormat('en-GB', { offsetMs: () => 0 });
const clearCore = [ranked('parked-draw', 'clear'), ranked('sleep-time', 'clear'), ranked('wake-ups', 'clear')];

describe('what leads', () => {
  it('is faults before things to watch, in the order of the checks', () => {
    const { findings } = headlines([
      ranked('a', 'watch'),
      ranked('b', 'fault'),
      ranked('c', 'clear'),
      ranked('d', 'fault'),
    ]);
    expect(findings.map((one) => one.check)).toEqual(['b', 'd', 'a']);
  });
  it('is at most three', () => {
    expect(headlines('abcde'.split('').map((check) => ranked(check, 'fault'))).findings).toHaveLength(3);
  });
  it('is causes: what follows from one ranks below it and is no cause', () => {
    const { findings, causes } = headlines([
      ranked('stand-time', 'fault', 'parked-draw'),
      ranked('parked-draw', 'fault'),
      ranked('battery-heat', 'watch'),
    ]);
    expect(findings.map((one) => one.check)).toEqual(['parked-draw', 'battery-heat', 'stand-time']);
    expect(causes.map((one) => one.check)).toEqual(['parked-draw', 'battery-heat']);
  });
  it('may itself be what would follow from a finding that is clear', () => {
    const { causes } = headlines([ranked('parked-draw', 'clear'), ranked('stand-time', 'fault', 'parked-draw')]);
    expect(causes.map((one) => one.check)).toEqual(['stand-time']);
  });
  it('is a fault of the log where that is why the core questions have no answer', () => {
    const open = ['parked-draw', 'sleep-time', 'wake-ups'].map((check) => ranked(check, 'undecided', 'log-coverage'));
    const { situation, findings } = headlines([...open, ranked('log-coverage', 'fault')]);
    expect([situation, findings.map((one) => one.check)]).toEqual(['undecided', ['log-coverage']]);
    expect(headlines([...open, ranked('log-coverage', 'clear')]).findings).toHaveLength(3);
  });
  it('is a fault of the log, and no all-clear, where the vehicle seems in order beside it', () => {
    const { situation, findings } = headlines([...clearCore, ranked('log-coverage', 'fault')]);
    expect([situation, findings.map((one) => one.check)]).toEqual(['recording', ['log-coverage']]);
  });
  it('is first what somebody may be hurt by', () => {
    const { findings } = headlines([
      ranked('parked-draw', 'fault'),
      { ...ranked('freeze-risk', 'watch'), variant: 'in-doubt' },
    ]);
    expect(findings.map((one) => one.check)).toEqual(['freeze-risk', 'parked-draw']);
  });
});

describe('the situation', () => {
  it('is undecided, and no all-clear, where no question that matters has an answer; what was seen is told where some have', () => {
    expect(headlines([ranked('parked-draw', 'undecided'), ...clearCore.slice(1)]).situation).toBe('partly');
    expect(headlines([ranked('parked-draw', 'undecided'), ranked('resting-charge', 'watch')]).situation).toBe(
      'undecided',
    );
  });
  it('is a fault where there is one, whatever else is open', () => {
    expect(headlines([ranked('parked-draw', 'undecided'), ranked('charging-low', 'fault')]).situation).toBe('fault');
  });
  it('is to watch, or clear, where all that matters is answered', () => {
    expect(headlines([...clearCore, ranked('resting-charge', 'watch')]).situation).toBe('watch');
    expect(headlines(clearCore).situation).toBe('clear');
  });
});

describe('the first page', () => {
  it('speaks of the cause, and of nothing that follows from it', () => {
    const { summary } = sampleReport();
    expect(summary.answer).toBe('Your vehicle takes too much power from its battery while it is parked.');
    expect(summary.found).toHaveLength(3);
    expect(summary.until_then).toEqual([
      'Do not let the vehicle stand for days. Drive it often, or have the battery charged.',
    ]);
    expect(summary.not_yet[0]).toMatch(/^Please do not fit a new battery/);
  });
  it('speaks of a single night only where that is likely, and of a few days where it cannot be ruled out', () => {
    const limit = { value: 14 * 86_400, unit: 's', source: 'test' } as const;
    const facts = {
      ...{ lowDays: 1, lowS: 86_400, highS: 864_000, lessThan: false, hasStarter: true },
      ...{ charge: 0.8, chargeU: 0.1, chargeT: 1.77e9, capacityAh: 80, derived: false, drawA: 0.14, drawUA: 0.01 },
      ...{ toLoseLowAh: 4, toLoseHighAh: 30, lossLowAh: 0.1, lossHighAh: 0.2, temperatureSeen: true },
    };
    const until = (days: number, U: number, stoodHours = 0) => {
      const measured = { value: days * 86_400, unit: 's', uncertainty: U * 86_400, coverage: 2 } as const;
      const stand = plain('stand-time', 'fault', { follows: 'parked-draw', measured, limit, facts });
      const { findings } = sampleReport({ findings: [drawFault, stand] });
      return summarise(findings, loadContent('en'), format, { stoodS: stoodHours * 3600 }).until_then.join();
    };
    expect(until(0.6, 0.5)).toMatch(/single night/);
    expect(until(5.3, 4.4)).toMatch(/few days/);
    expect(until(5.3, 4.4)).not.toMatch(/single night/);
    // Nobody's night is as long as that.
    expect(until(1.3, 0.6)).not.toMatch(/single night/);
    expect(until(8, 3)).toMatch(/longer than 5.days/);
    // It stood through a longer one, and started.
    expect(until(0.6, 0.5, 10)).toMatch(/single night/);
    expect(until(0.6, 0.5, 15)).not.toMatch(/single night/);
    expect(until(0.6, 0.5, 15)).toMatch(/few days/);
  });
  it('gives the same advice once, though two causes ask for it', () => {
    const { summary } = sampleReport({ findings: [drawFault, plain('wake-ups', 'fault')] });
    const beginnings = summary.not_yet.map((text) => text.split('. ')[0]);
    expect(beginnings).toContain('Please do not fit a new battery yet');
    expect(new Set(beginnings).size).toBe(beginnings.length);
  });
  it('names what follows from the cause in a few plain words, without its figures', () => {
    const rest = plain('resting-charge', 'fault', { follows: 'parked-draw' });
    const wakes = plain('wake-ups', 'watch', { follows: 'parked-draw' });
    const { summary, findings } = sampleReport({ findings: [drawFault, rest, wakes] });
    expect(summary.found).toEqual([findings[0].plain, 'The battery is not full enough now.', findings[2].plain]);
  });
  it('has such words in every language for all that may follow from something', () => {
    const alike = ['en', 'de'].map((language) => {
      const content = loadContent(language);
      return CHECKS.filter(({ id }) => {
        const prose = readSections(id, content.text(`checks/${id}.md`));
        return part(part(prose, 'in a few words'), 'follows');
      }).map(({ id }) => id);
    });
    expect(alike[0]).toEqual(alike[1]);
    expect(alike[0]).toEqual(expect.arrayContaining(['stand-time', 'resting-charge', 'circuit-link', 'wake-ups']));
  });
  it('names what could not be answered among what may not be concluded', () => {
    const open = plain('sleep-time', 'undecided', { reason: 'no-current' });
    expect(sampleReport({ findings: [drawFault, open] }).summary.not_yet).toContain(
      'Title of sleep-time when undecided.',
    );
  });
  it('counts what else is open', () => {
    const open = ['crank-voltage', 'resting-charge'].map((check) =>
      plain(check, 'undecided', { reason: 'no-current' }),
    );
    const { not_yet } = sampleReport({ findings: [drawFault, ...open] }).summary;
    expect(not_yet).toContain(
      "2\u00a0questions about your vehicle could not be answered from this log. The technician's pages say why.",
    );
  });
  it('keeps what hurts from being charged or cranked, whatever else it would advise', () => {
    const cold = { coldT: 0, coldC: -22, charge: 0.2, chargeU: 0.1, chargeT: 0, warmestFreezingC: -9 };
    const frozen = plain('freeze-risk', 'fault', { facts: cold });
    const { until_then, suggest } = sampleReport({ findings: [drawFault, frozen] }).summary;
    expect(until_then).toEqual([
      'Do not start, charge or jump-start the vehicle before the battery has been looked at. Keep it out of the frost if you can.',
    ]);
    expect(suggest).toEqual(['Let us warm the battery up, check it for damage and charge it.']);
  });
  it('says what was seen and what was not, where some of the main questions have an answer', () => {
    const { status: _, ...drawn } = drawFault;
    const findings = [
      { ...drawn, status: 'clear' as const },
      plain('sleep-time', 'undecided', { reason: 'no-current' }),
    ];
    expect(sampleReport({ findings }).summary.answer).toBe(
      'Seen and in order: how much it uses while parked. Left open by this recording: how it falls asleep.',
    );
  });
  it('accuses nothing where the log allows no answer', () => {
    const { summary } = sampleReport({ findings: [plain('parked-draw', 'undecided', { reason: 'no-current' })] });
    expect(summary.answer).toMatch(/does not let us say/);
    expect(summary.found).toEqual(['The log has no current.']);
  });
  it('has every part for every situation', () => {
    const content = loadContent('en');
    const prose = readSections('summary.md', content.text('summary.md'));
    for (const situation of ['fault', 'watch', 'recording', 'partly', 'undecided', 'clear']) {
      for (const name of ['answer', 'means', 'suggest', 'until then']) {
        expect(toText(part(part(prose, situation), name)?.source ?? ''), `${situation}, ${name}`).not.toBe('');
      }
    }
    const own = CHECKS.flatMap(({ id }) => readSections(id, content.text(`checks/${id}.md`)).parts);
    for (const section of own.filter((one) => one.name.startsWith('first page'))) {
      expect(part(section, 'answer'), section.name).toBeDefined();
    }
  });
  it.each([
    ['en', 'belt', 'converter'],
    ['de', 'Riemen', 'Wandler'],
  ])('asks for no belt where a converter charges the battery (%s)', (language, belt, converter) => {
    const [fault] = sampleReport({ findings: [drawFault] }).findings;
    const findings = [{ ...there(fault), check: 'charging-low' }];
    const suggested = (hasAlternator: boolean) =>
      summarise(findings, loadContent(language), format, { hasAlternator }).suggest.join(' ');
    expect(suggested(true)).toContain(belt);
    expect(suggested(false)).not.toContain(belt);
    expect(suggested(false)).toContain(converter);
  });
  it('is said even where a shop removed the words for one check', () => {
    const bare = { ...loadContent('en'), text: () => '# S\n## fault\n### answer\nA fault.\n### means\nM\n' };
    expect(summarise(sampleReport().findings, bare, format)).toMatchObject({
      answer: 'A fault.',
      means: ['M'],
      suggest: [],
    });
  });
});

describe('a complaint of which the log shows nothing', () => {
  const like = { ...there(sampleReport().findings[0]), variant: null, follows: null, reason: null, reason_key: null };
  const findings = CHECKS.map(({ id }) => ({ ...like, check: id, status: 'clear' as const, title: id }));
  it.each(['en', 'de'])('is told so, and no bare all-clear (%s)', (language) => {
    const said = (concern: boolean) => summarise(findings, loadContent(language), format, { concern });
    expect(said(false).answer).toMatch(/no fault|keinen Fehler/);
    expect(said(true).answer).toMatch(/nothing wrong that explains|keinen Schaden gefunden, der/);
    expect(Object.values(said(true)).flat().join(' ')).not.toMatch(
      /no fault|keinen Fehler|Nothing needs|muss nichts|as you always do|wie immer/,
    );
  });
  it('but what is in order and may be that trouble is told', () => {
    const lowered = findings.map((one) =>
      one.check === 'charging-low' ? { ...one, variant: 'lowered', plain: 'It charges little on purpose.' } : one,
    );
    const found = (concern: boolean) => summarise(lowered, loadContent('en'), format, { concern }).found;
    expect(found(true)).toContain('It charges little on purpose.');
    expect(found(false)).not.toContain('It charges little on purpose.');
  });
});
