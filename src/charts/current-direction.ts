/** Signs for and against the direction of current that the manifest states: counts to the right and to the left of a line. */
import { type Draft, panel, rows, type Subject, topLevel } from './chart.ts';
import { laneY } from './drawing/lanes.ts';
import { rounded } from './drawing/numbers.ts';
import { BLUE, GREY, INK, ORANGE } from './drawing/theme.ts';

export const name = 'current-direction';
const LANE_PX = 22;

export function currentDirection({ analysis, words }: Subject): Draft | null {
  const evidence = analysis.direction.evidence.filter(({ agree, against }) => agree + against > 0);
  if (evidence.length === 0) return null;
  // Shares, not counts: thousands of switched loads would hide a handful of cranks.
  const bars = evidence.flatMap(({ agree, against }, lane) => [
    { lane, share: rounded(agree / (agree + against)), label: String(agree), side: 'left' },
    { lane, share: rounded(-against / (agree + against)), label: String(against), side: 'right' },
  ]);
  const x = { field: 'share', type: 'quantitative', scale: { domain: [-1.15, 1.15], nice: false }, axis: null };
  const y = laneY(evidence.map(({ what }) => words.say(`sign.${what}`)));
  const layer = [
    {
      data: rows(bars.map(({ lane, share }) => ({ lane, share }))),
      mark: { type: 'bar', size: LANE_PX - 8, orient: 'horizontal' },
      encoding: { x, y, color: { condition: { test: 'datum.share < 0', value: ORANGE }, value: BLUE } },
    },
    ...['left', 'right'].map((side) => ({
      data: rows(bars.filter((bar) => bar.side === side).map(({ lane, share, label }) => ({ lane, share, label }))),
      mark: { type: 'text', align: side, dx: side === 'left' ? 6 : -6 },
      encoding: { x, y, text: { field: 'label' } },
    })),
    ...[words.say('mark.against'), words.say('mark.agree')].map((label, k) => ({
      data: rows([{ share: 0, label }]),
      mark: { type: 'text', baseline: 'top', align: k === 0 ? 'right' : 'left', dx: k === 0 ? -6 : 6, color: GREY },
      encoding: { x, y: { value: LANE_PX * evidence.length + 4 }, text: { field: 'label' } },
    })),
    { data: rows([{ share: 0 }]), mark: { type: 'rule', color: INK }, encoding: { x } },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'current-direction',
    title,
    spec: topLevel(title, panel({ title, height: LANE_PX * evidence.length, layer })),
    altFacts: {
      agree: analysis.direction.agree,
      against: analysis.direction.against,
      flipped: analysis.direction.flipped,
    },
  };
}
