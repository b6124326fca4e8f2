/** All charts of a session, in the order of the report. */
import type { Analysis } from '../analysis/analysis.ts';
import type { Facts, Finding } from '../checks/check.ts';
import type { Session } from '../manifest/session.ts';
import { batteryResistance } from './battery-resistance.ts';
import { chargeBalance } from './charge-balance.ts';
import { chargerSeen } from './charger-seen.ts';
import { charging } from './charging.ts';
import type { Draft, DraftOf, Subject } from './chart.ts';
import { circuitDrop } from './circuit-drop.ts';
import { circuitLink } from './circuit-link.ts';
import { crankVoltage } from './crank-voltage.ts';
import { currentDirection } from './current-direction.ts';
import { currentPath } from './current-path.ts';
import { currentRange } from './current-range.ts';
import { currentResolution } from './current-resolution.ts';
import { currentZero } from './current-zero.ts';
import { deepDischarge } from './deep-discharge.ts';
import type { Spec } from './draw.ts';
import { startDrawer } from './drawer.ts';
import { freezeRisk } from './freeze-risk.ts';
import { heldAwake } from './held-awake.ts';
import { limitAxis } from './limit-axis.ts';
import { logCoverage } from './log-coverage.ts';
import { parkedDraw } from './parked-draw.ts';
import { restingCharge } from './resting-charge.ts';
import { sessionClock } from './session-clock.ts';
import { sessionOverview } from './session-overview.ts';
import { sleepTime } from './sleep-time.ts';
import { standTime } from './stand-time.ts';
import { supplyLost } from './supply-lost.ts';
import { WIDTH } from './theme.ts';
import { type SvgText, tidySvg } from './tidy-svg.ts';
import { wakeUps } from './wake-ups.ts';
import type { Words } from './words.ts';

export interface Chart {
  /** Safe as a file name and as part of an id, such as `parked-draw`. */
  readonly name: string;
  readonly check: string | null;
  readonly title: string;
  readonly spec: Spec;
  readonly svg: string;
  /** px */
  readonly width: number;
  readonly height: number;
  readonly altFacts: Facts;
}

export interface ChartInput {
  readonly analysis: Analysis;
  readonly session: Session;
  readonly findings: readonly Finding[];
  readonly words: Words;
}

/** Alternative text: the report knows the conclusion. */
export type Describe = (draft: Draft) => Pick<SvgText, 'title' | 'desc'>;

const DRAFTS: readonly DraftOf[] = [
  sessionOverview,
  parkedDraw,
  sleepTime,
  wakeUps,
  heldAwake,
  circuitLink,
  standTime,
  restingCharge,
  deepDischarge,
  freezeRisk,
  crankVoltage,
  batteryResistance,
  charging,
  chargeBalance,
  circuitDrop,
  logCoverage,
  currentDirection,
  currentPath,
  currentZero,
  currentRange,
  currentResolution,
  chargerSeen,
  supplyLost,
];

/** Specs without pictures, for what the log holds. Pure. */
export function draftCharts({ analysis, session, findings, words }: ChartInput): readonly Draft[] {
  const subject: Subject = {
    analysis,
    session,
    findings,
    words,
    clock: sessionClock(session.timezone, analysis.start, words),
  };
  return [...DRAFTS.map((draftOf) => draftOf(subject)), ...findings.map((finding) => limitAxis(finding, words))].filter(
    (draft) => draft !== null,
  );
}

/** Begins to draw; what is called back with the descriptions gives the charts. There may be other work in between. */
export function beginCharts(input: ChartInput): (describe: Describe) => Promise<Chart[]> {
  const drawer = startDrawer();
  const drafts = draftCharts(input);
  const drawing = Promise.all(drafts.map((draft) => drawer.draw(draft.spec)));
  // If nobody comes back for them, nobody wants to know.
  drawing.catch(() => {});
  return async (describe) => {
    const pictures = await drawing;
    return drafts.map((draft, k) => {
      const svg = tidySvg(pictures[k], { ...describe(draft), idPrefix: draft.name, widthPx: draft.widthPx ?? WIDTH });
      const [, width, height] = /width="(\d+)" height="(\d+)"/.exec(svg) as RegExpExecArray;
      const { name, check, title, spec, altFacts } = draft;
      return { name, check, title, spec, altFacts, svg, width: Number(width), height: Number(height) };
    });
  };
}
