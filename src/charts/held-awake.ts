/** How long each stretch awake went on, against the limit: after key-offs and after wakes, over the session. */
import { lastOf } from '../base/there.ts';
import { awakeStretches } from '../measures/awake-stretches.ts';
import { type Draft, findingOf, limitLine, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { pxAlong, withRoom } from './drawing/labels.ts';
import { limitWords, quantity, rounded } from './drawing/numbers.ts';
import { BLUE, ORANGE, PLOT } from './drawing/theme.ts';

export const name = 'held-awake';
/** Taken for the limit where the check has none, s. */
const USUAL_S = 3600;
const TICKS_S = [10, 60, 600, 3600, 10 * 3600, 100 * 3600];
/** Marks on a page; the longest are always among them. */
const MOST = 400;

export function heldAwake(subject: Subject): Draft | null {
  const { analysis, session, findings, words, clock } = subject;
  const finding = findingOf(findings, 'held-awake');
  const stretches = analysis.has.current
    ? awakeStretches(analysis, session)
        .toSorted((a, b) => b.seconds - a.seconds)
        .slice(0, MOST)
    : [];
  // Where nothing was near the limit the time to sleep tells it all.
  const [longest] = stretches;
  if (longest === undefined || finding === undefined || finding.status === 'clear') return null;

  const limitS = finding.limit?.value ?? USUAL_S;
  const shortestS = lastOf(stretches).seconds;
  const bottom = TICKS_S.findLast((s) => s <= shortestS) ?? 1;
  const top = 1.6 * Math.max(longest.seconds, limitS);
  const values = TICKS_S.filter((s) => s >= bottom && s <= top);
  const y = valueY('y', { values, labels: values.map((s) => quantity(s, 's', words)) }, [bottom, top], { type: 'log' });
  const x = timeX(subject, analysis.start, analysis.end);
  const points = stretches.map(({ start, seconds, after }) => ({
    t: clock.x(start),
    y: rounded(seconds),
    after,
    label: quantity(seconds, 's', words),
  }));
  const domain: readonly [number, number] = [clock.x(analysis.start), clock.x(analysis.end)];
  const long = points.filter((point) => point.y > limitS);
  const marks = { color: { condition: { test: "datum.after === 'wake'", value: ORANGE }, value: BLUE } };
  const layer = [
    {
      data: rows(points.map((point) => ({ ...point, bottom }))),
      mark: { type: 'rule', strokeWidth: 1, opacity: 0.6 },
      encoding: { x, y, y2: { field: 'bottom' }, ...marks },
    },
    ...limitLine(y, rounded(limitS), limitWords(limitS, 's', words)),
    {
      mark: { type: 'point', filled: true, size: 40, opacity: 1 },
      encoding: {
        x,
        y,
        ...marks,
        shape: { condition: { test: "datum.after === 'wake'", value: 'triangle-up' }, value: 'circle' },
      },
    },
    {
      data: rows(withRoom(long, ({ t }) => pxAlong(t, domain, PLOT))),
      mark: { type: 'text', baseline: 'bottom', dy: -6, fontWeight: 600 },
      encoding: { x, y, text: { field: 'label' } },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'held-awake',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.awake_for'),
        note: words.say('note.held-awake'),
        height: 190,
        data: rows(points),
        layer,
      }),
    ),
    altFacts: { stretches: stretches.length, long: long.length, longestS: longest.seconds, limitS },
  };
}
