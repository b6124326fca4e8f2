/** What moved the voltage against the current that came with it: starts where one of them shows none, else switched loads. */
import { loadSteps, mostResistanceOhm } from '../measures/load-steps.ts';
import { seenStarts } from '../measures/seen-starts.ts';
import { usualOhm } from '../measures/starter.ts';
import { type Draft, findingOf, panel, rows, type Subject, topLevel, valueX, valueY } from './chart.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, GREY, INK, ORANGE, PLOT } from './drawing/theme.ts';
import { someOf } from './drawing/thinned.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'current-path';
/** Of those with a current that explains them, and of those without. */
const MOST_POINTS = 120;
/** A change the wrong way that is noise needs no room of its own: parts of the largest. */
const NOUGHT = 0.05;

interface Move {
  /** A in the direction that the voltage asks for, and V without a sign. */
  readonly amps: number;
  readonly volts: number;
  readonly matched: boolean;
}

/** Null where all is well, or nothing moved. */
export function currentPath(subject: Subject): Draft | null {
  const { session, findings, words } = subject;
  const finding = findingOf(findings, name);
  const moves = finding && finding.status !== 'clear' ? movesOf(subject, finding.variant) : [];
  if (moves.length === 0) return null;
  const spread = (list: readonly Move[]) =>
    someOf(list, MOST_POINTS).map(({ amps, volts }) => ({ t: rounded(amps), y: rounded(volts) }));
  const matched = spread(moves.filter((move) => move.matched));
  const unseen = spread(moves.filter((move) => !move.matched));
  const points = [...matched, ...unseen];
  const volts = niceTicks(0, 1.1 * Math.max(...points.map(({ y }) => y)), 5);
  const mostA = Math.max(1, ...points.map(({ t }) => t));
  const leastA = Math.min(...points.map(({ t }) => t));
  const amps = niceTicks(leastA < -NOUGHT * mostA ? leastA : 0, mostA, 7);
  const x = valueX('t', numberTicks(amps.values, words), amps.domain, words.say('axis.current_moved'));
  const y = valueY('y', numberTicks(volts.values, words), volts.domain);
  // A resistance is a line from the origin, as far as it stays inside.
  const lineOf = (ohm: number, label: string) => {
    const t = Math.min(amps.domain[1], (0.94 * volts.domain[1]) / ohm);
    return {
      label,
      points: [
        { t: 0, y: 0 },
        { t: rounded(t), y: rounded(ohm * t) },
      ] as const,
    };
  };
  const usual = usualOhm(session);
  const lines = [
    { ...lineOf(mostResistanceOhm(session), words.say('mark.worst_battery')), color: INK, strokeDash: [5, 3] },
    ...(usual === null ? [] : [{ ...lineOf(usual, words.say('mark.sound_battery')), color: GREY, strokeDash: [1, 0] }]),
  ];
  const title = words.say(`title.${name}`);
  const layer = [
    ...lines.flatMap(({ label, points: ends, ...mark }) => {
      const isRight = ends[1].t > 0.97 * amps.domain[1];
      return [
        { data: rows(ends), mark: { type: 'line', strokeWidth: 1.2, ...mark }, encoding: { x, y } },
        {
          data: rows([{ ...ends[1], label: label.split('\n') }]),
          mark: { type: 'text', align: 'left', baseline: 'middle', dx: 6, lineHeight: 13, color: mark.color },
          encoding: { ...(isRight ? { x: { value: PLOT } } : { x }), y, text: { field: 'label' } },
        },
      ];
    }),
    {
      data: rows(matched),
      mark: { type: 'point', shape: 'circle', size: 28, color: BLUE, opacity: 0.7 },
      encoding: { x, y },
    },
    {
      data: rows(unseen),
      mark: { type: 'point', shape: 'triangle-up', filled: true, size: 60, color: ORANGE, opacity: 1 },
      encoding: { x, y },
    },
  ];
  const heading = { title: words.say('axis.voltage_moved'), note: words.say('note.current-path'), height: 190 };
  return {
    name,
    check: name,
    title,
    spec: topLevel(title, panel({ ...heading, layer })),
    altFacts: { moves: moves.length, unseen: moves.filter((move) => !move.matched).length },
  };
}

/** Starts or switched loads, whichever the finding is about. */
function movesOf({ analysis, session }: Subject, variant: string | undefined): readonly Move[] {
  const starts = seenStarts(analysis, session).map(
    ({ drawA, dipV, matched }): Move => ({ amps: drawA, volts: dipV, matched }),
  );
  const steps = loadSteps(analysis, session).map(
    ({ amps, volts, matched }): Move => ({ amps: amps * Math.sign(volts), volts: Math.abs(volts), matched }),
  );
  const isOpen = (moves: readonly Move[]) => moves.some(({ matched }) => !matched);
  if (variant === 'loads' || starts.length === 0) return steps;
  // Where neither is named: those among which one shows no current.
  return variant === undefined && !isOpen(starts) && isOpen(steps) ? steps : starts;
}
