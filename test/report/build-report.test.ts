import { describe, expect, it } from 'vitest';
import { drawFault, findings, plain, sampleReport } from './sample.ts';

const report = sampleReport();
const draw = report.findings[0];

describe('report.json', () => {
  it('holds every finding once, in the order of the checks', () => {
    expect(report.findings.map((finding) => finding.check)).toEqual(findings.map((finding) => finding.check));
  });

  it('rounds to six figures and gives times in UTC with milliseconds', () => {
    expect(draw.measured).toEqual({ value: 0.0831235, unit: 'A', uncertainty: 0.0021, coverage: 2 });
    expect(report.parked[0]).toMatchObject({
      sleep_draw_a: 0.0831235,
      sleep_draw_u_a: 0.0021,
      start: '2026-03-03T18:40:00.000Z',
    });
  });

  it('gives the state of charge of a rested battery', () => {
    expect(report.parked[0].state_of_charge).toBeGreaterThan(0.4);
    expect(report.parked[0].state_of_charge).toBeLessThan(0.75);
  });

  it('is the same bytes again', () => {
    expect(JSON.stringify(sampleReport())).toBe(JSON.stringify(report));
  });

  it('words a finding with its facts', () => {
    expect(draw.title).toBe(
      'The vehicle draws 83 mA while asleep: the limit is 50 mA'.replaceAll(/(\d) (?=mA)/g, (hit) =>
        hit.replace(' ', '\u00a0'),
      ),
    );
    expect(draw.detail).toContain('The circuit Tracker supply was on.');
    expect(draw).toMatchObject({ name: 'Draw while parked and asleep', reason: null, reason_key: null });
  });

  it('says in an undecided finding what is lacking, also where its prose asks for facts that are not there', () => {
    const [undecided] = sampleReport({
      findings: [plain('parked-draw', 'undecided', { reason: 'no-current' })],
    }).findings;
    expect(undecided).toMatchObject({
      title: 'The draw while asleep cannot be told',
      plain: 'The log has no current.',
      reason: 'The log has no current.',
      reason_key: 'no-current',
    });
  });

  it('takes a variant’s parts, and the rest from the plain section', () => {
    const [finding] = sampleReport({ findings: [{ ...drawFault, variant: 'never-asleep' }] }).findings;
    expect(finding.title).toBe('The vehicle never went to sleep');
    expect(finding.plain).toMatch(/^While it was parked/);
  });

  it('names the file where prose asks for a fact that a fault does not give', () => {
    expect(() => sampleReport({ findings: [{ ...drawFault, facts: {} }] })).toThrow(/checks\/parked-draw\.md/);
  });
});

describe('the checklist', () => {
  it('goes safety, confirm, isolate, repair, verify, and asks the same thing once', () => {
    const twice = [drawFault, plain('wake-ups', 'fault'), plain('sleep-time', 'fault')];
    const { checklist } = sampleReport({ findings: twice });
    const order = ['safety', 'confirm', 'isolate', 'repair', 'verify'];
    const stages = checklist.map((step) => order.indexOf(step.stage));
    expect(stages).toEqual(stages.toSorted((a, b) => a - b));
    const again = checklist.filter((step) => step.text.startsWith('Log again'));
    expect(again).toEqual([{ stage: 'verify', text: 'Log again for 5\u00a0days', checks: ['wake-ups', 'sleep-time'] }]);
  });
});

describe('cautions', () => {
  it('are those that findings name, in the order of their file, with title and source apart', () => {
    expect(report.cautions).toEqual([
      {
        id: 'hydrogen',
        title: 'Charging gives off an explosive gas',
        text: 'Ventilate, keep sparks and flames away.',
        source: 'a regulation, seen',
      },
      { id: 'acid', title: 'Battery acid burns', text: 'Wear eye protection.', source: 'another regulation, seen' },
    ]);
  });
  it('are left out where nothing but clear findings name them', () => {
    expect(sampleReport({ findings: [{ ...drawFault, status: 'clear' }] }).cautions).toEqual([]);
  });
});
