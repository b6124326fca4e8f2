import { describe, expect, it } from 'vitest';
import { loadContent } from '../../../src/node/content.ts';
import type { ReportFinding } from '../../../src/report/contract/report.ts';
import { figuresOf, findingView, isBrief, rank } from '../../../src/report/page/view-findings.ts';
import { makeFormat } from '../../../src/report/words/format.ts';
import { plain, sampleReport } from '../sample.ts';

const report = sampleReport({ findings: [plain('sleep-time', 'clear')] });
const [base] = report.findings;
const one = (check: string, status: ReportFinding['status'], follows: string | null = null): ReportFinding => {
  return { ...base, check, status, follows };
};
const content = loadContent('en');
const words = { content, format: makeFormat('en-GB', { offsetMs: () => 0 }) };
const chart = (name: string, check: string | null) => ({ name, check, title: name, svg: '<svg></svg>' });

describe('the order of findings', () => {
  it('puts below each cause what follows from it, then what is open, then what is in order', () => {
    const findings = [
      one('sleep-time', 'clear'),
      one('stand-time', 'fault', 'wake-ups'),
      one('crank-voltage', 'watch', 'resting-charge'),
      one('circuit-drop', 'undecided'),
      one('battery-heat', 'watch'),
      one('wake-ups', 'fault'),
      one('resting-charge', 'fault', 'wake-ups'),
      one('charging-low', 'fault'),
    ];
    expect(rank(findings).map(({ check }) => check)).toEqual([
      'wake-ups',
      'stand-time',
      'resting-charge',
      'crank-voltage',
      'charging-low',
      'battery-heat',
      'circuit-drop',
      'sleep-time',
    ]);
  });
  it('loses none where two follow from each other, or from one that is not there', () => {
    const findings = [one('a', 'fault', 'b'), one('b', 'fault', 'a'), one('c', 'watch', 'nowhere')];
    expect(rank(findings).map(({ check }) => check)).toEqual(['c', 'a', 'b']);
  });
});

describe('what is told in two lines', () => {
  it.each([
    ['parked-draw', 'clear', true],
    ['circuit-drop', 'undecided', true],
    ['parked-draw', 'undecided', false],
    ['circuit-drop', 'watch', false],
  ] as const)('%s, %s: %s', (check, status, brief) => expect(isBrief({ check, status })).toBe(brief));
});

describe('figures', () => {
  const findings = [one('sleep-time', 'clear'), one('crank-voltage', 'clear'), one('wake-ups', 'fault')];
  const charts = [
    chart('crank-voltage', 'crank-voltage'),
    chart('sleep-time', 'sleep-time'),
    chart('limit-wake-ups', 'wake-ups'),
    chart('wake-ups', 'wake-ups'),
    chart('session-overview', null),
  ];
  const told = (situation: 'fault' | 'clear') =>
    figuresOf({ ...report, findings }, charts, situation, words).map(
      ({ number, name, printed }) => `${number} ${name}${printed ? '' : ' (screen)'}`,
    );
  it('are numbered as they stand, those of paper first', () => {
    expect(told('fault')).toEqual([
      '1 session-overview',
      '2 wake-ups',
      '3 sleep-time (screen)',
      '4 crank-voltage (screen)',
    ]);
  });
  it('that prove sleep are printed where there is no fault', () => {
    expect(told('clear')).toEqual(['1 session-overview', '2 wake-ups', '3 sleep-time', '4 crank-voltage (screen)']);
  });
});

describe('value and limit', () => {
  const view = (check: string, value: number, limit: number, unit: string) => {
    const measured = { value, unit, uncertainty: null, coverage: 2 as const };
    const finding = { ...one(check, 'fault'), measured, limit: { value: limit, unit, source: 'here' } };
    const { value: text, limitText } = findingView(finding, report, [], [], words);
    return [text, limitText].map((part) => part?.replaceAll('\u00a0', ' '));
  };
  it('say on which side of the limit is well', () => {
    expect(view('parked-draw', 0.061, 0.05, 'A')).toEqual(['61 mA', 'at most 50 mA']);
    expect(view('resting-charge', 0.55, 0.75, '1')).toEqual(['55 %', 'at least 75 %']);
    expect(view('charger-seen', 0, 0.25, '1')).toEqual(['0 %', '25 %']);
  });
  it('of a link are chances, not amounts', () => {
    expect(view('circuit-link', 0.001, 0.01, '1')).toEqual(['0.1 % by chance', '1 % by chance']);
  });
});
