/** Words of a chart stand on nothing else that must be read. */
import { describe, expect, it, test } from 'vitest';
import { limitAxis } from '../../src/charts/limit-axis.ts';
import type { Finding } from '../../src/checks/check.ts';
import type { Session } from '../../src/manifest/session.ts';
import { loadContent } from '../../src/node/content.ts';
import { draftCharts } from './drafts.ts';
import { madeUp } from './made-up.ts';
import { svgOf } from './svg-of.ts';
import { overlapping, type Text, textsOf } from './texts.ts';

const DAY_S = 86_400;
const LANGUAGES = ['en', 'de'].map((language) => loadContent(language).words);

async function drawn(name: string, change: { session?: Partial<Session>; findings?: readonly Finding[] }) {
  const { analysis, session, findings } = madeUp();
  const given = { analysis, session: { ...session, ...change.session }, findings: change.findings ?? findings };
  return Promise.all(
    LANGUAGES.map(async (words) => {
      const draft = draftCharts({ ...given, words }).find((one) => one.name === name);
      return draft ? svgOf(draft.spec) : '';
    }),
  );
}

describe('how long it may stand', () => {
  const finding = (lowDays: number, highDays: number, limitDays: number | null): Finding => ({
    check: 'stand-time',
    status: 'clear',
    cautions: [],
    ...(limitDays === null ? {} : { limit: { value: limitDays * DAY_S, unit: 's', source: 'here' } }),
    facts: {
      lowS: lowDays * DAY_S,
      highS: highDays * DAY_S,
      drawA: 0.1,
      charge: 0.6,
      chargeU: 0.1,
      capacityAh: 70,
      toLoseLowAh: 13,
      toLoseHighAh: 23,
    },
  });
  const px = (text: Text | undefined) => [text?.left ?? 0, text?.right ?? 0];

  it.each([
    [2.2, 4.9, 14],
    [29, 71, 14],
    [10, 12, 14],
    [12, 13, 14],
    [13.5, 16, 14],
    [14, 90, 14],
    [20, 22, 14],
    [100, 300, 14],
    [3, 40, null],
    [5, 5.5, 30],
  ])('%d to %d days, limit %s', async (low, high, limit) => {
    for (const svg of await drawn('stand-time', { findings: [finding(low, high, limit)] })) {
      const texts = textsOf(svg);
      const said = texts.filter(({ words }) => /soonest|latest|frühestens|spätestens/.test(words));
      expect(said).toHaveLength(2);
      expect(overlapping(texts)).toEqual([]);
      expect(Math.max(...texts.map(({ right }) => right))).toBeLessThanOrEqual(721);
      if (limit === null) continue;
      // Each but the limit's own words stands wholly on one side of the limit's line.
      const own = texts.find(({ words }) => /^(limit|Grenzwert)/.test(words));
      const line = px(own)[0] - 5;
      for (const one of said) expect(px(one)[0] > line || px(one)[1] < line, `${one.words} over ${line}`).toBe(true);
    }
  });
});

test.each([0.02, 0.047, 0.05, 0.061, 0.222, 1.5, 40])('the axis of a limit with %d A', async (value) => {
  const finding: Finding = {
    check: 'parked-draw',
    status: 'clear',
    cautions: [],
    measured: { value, unit: 'A', uncertainty: value / 7 },
    limit: { value: 0.05, unit: 'A', source: 'here' },
  };
  for (const words of LANGUAGES) {
    const texts = textsOf(await svgOf(limitAxis(finding, words)?.spec ?? {}));
    expect(overlapping(texts)).toEqual([]);
    expect(Math.min(...texts.map(({ left }) => left))).toBeGreaterThanOrEqual(0);
    expect(Math.max(...texts.map(({ right }) => right))).toBeLessThanOrEqual(340);
  }
});

describe('the session at a glance', () => {
  const start = madeUp().analysis.start;
  const at = (hours: number) => (start + hours * 3600) * 1000;
  const notes = [10, 10.2, 40].map((hours) => ({ atMs: at(hours), text: `At ${hours}` }));

  it('numbers notes and photos in order of time, each kind in its own rows', async () => {
    const photos = [
      { file: 'b.jpg', atMs: at(10.1), atFrom: 'camera' as const },
      { file: 'a.jpg', atMs: at(5), atFrom: 'manifest' as const, text: 'Sensor' },
      { file: 'c.jpg' },
    ];
    const [svg] = await drawn('session-overview', { session: { notes, photos } });
    const texts = textsOf(svg);
    const axis = texts.find(({ words }) => words === 'Voltage, V');
    const marks = texts.filter(({ words, top }) => /^\d$/.test(words) && top < (axis?.top ?? 0));
    const shown = marks.map(({ words, top }) => [words, Math.round(top)] as const);
    expect(shown.map(([words]) => words).sort()).toEqual(['1', '2', '3', '4', '5']);
    const topOf = (number: string) => shown.find(([words]) => words === number)?.[1] ?? 0;
    // 1 and 3 are photos, below the notes; 2 and 4 are too near to each other for one row.
    expect(topOf('2')).toBe(topOf('5'));
    expect(topOf('4')).toBeGreaterThan(topOf('2'));
    expect(topOf('1')).toBe(topOf('3'));
    expect(topOf('1')).toBeGreaterThan(topOf('4'));
    expect(overlapping(marks)).toEqual([]);
  });

  it('has no row for what is not there', async () => {
    const [svg] = await drawn('session-overview', { session: { notes, photos: [] } });
    expect(textsOf(svg).map(({ words }) => words)).not.toContain('Photos');
    const [bare] = await drawn('session-overview', { session: { notes: [], photos: [{ file: 'c.jpg' }] } });
    expect(textsOf(bare).map(({ words }) => words)).not.toContain('Notes');
  });
});

test('rested voltages stand clear of each other, of the limit and of the margin', async () => {
  for (const svg of await drawn('resting-charge', {})) {
    const texts = textsOf(svg);
    const volts = texts.filter(({ words, right }) => /^\d+[.,]\d\d\u00a0V$/.test(words) && right < 652);
    expect(volts.length).toBeGreaterThan(0);
    expect(overlapping(texts)).toEqual([]);
  }
});
