/** All charts of a session, in the order of the report. */

import type { Analysis } from '../analysis/model.ts';
import { there } from '../base/there.ts';
import type { AnyFacts, Finding } from '../checks/check.ts';
import type { Session } from '../manifest/session.ts';
import { batteryResistance } from './battery-resistance.ts';
import { chargeBalance } from './charge-balance.ts';
import { chargerSeen } from './charger-seen.ts';
import { charging } from './charging.ts';
import type { Draft, DraftOf, Scene, Subject } from './chart.ts';
import { circuitDrop } from './circuit-drop.ts';
import { circuitLink } from './circuit-link.ts';
import { crankVoltage } from './crank-voltage.ts';
import { currentDirection } from './current-direction.ts';
import { currentPath } from './current-path.ts';
import { currentRange } from './current-range.ts';
import { currentResolution } from './current-resolution.ts';
import { currentZero } from './current-zero.ts';
import { deepDischarge } from './deep-discharge.ts';
import type { Drawer, Spec } from './drawing/draw.ts';
import { sessionClock } from './drawing/session-clock.ts';
import { WIDTH } from './drawing/theme.ts';
import { type SvgText, tidySvg } from './drawing/tidy-svg.ts';
import type { Words } from './drawing/words.ts';
import { freezeRisk } from './freeze-risk.ts';
import { heldAwake } from './held-awake.ts';
import { limitAxis } from './limit-axis.ts';
import { logCoverage } from './log-coverage.ts';
import { parkedDraw } from './parked-draw.ts';
import { portraitBursts } from './portrait-bursts.ts';
import { portraitCharging } from './portrait-charging.ts';
import { portraitDay } from './portrait-day.ts';
import { portraitKeyOn } from './portrait-key-on.ts';
import { portraitShutdown } from './portrait-shutdown.ts';
import { portraitStatesChart } from './portrait-states.ts';
import { portraitTemperature } from './portrait-temperature.ts';
import { portraitTopUps } from './portrait-top-ups.ts';
import { restingCharge } from './resting-charge.ts';
import { sessionOverview } from './session-overview.ts';
import { sleepTime } from './sleep-time.ts';
import { standTime } from './stand-time.ts';
import { supplyLost } from './supply-lost.ts';
import { wakeUps } from './wake-ups.ts';

export interface Chart {
  /** Safe as a file name and as part of an id, such as `parked-draw`. */
  readonly name: string;
  readonly check: string | null;
  readonly title: string;
  readonly spec: Spec;
  /** Null where it is not shown. */
  readonly svg: string | null;
  readonly altFacts: AnyFacts;
}

export interface ChartInput {
  readonly analysis: Analysis;
  readonly session: Session;
  readonly words: Words;
}

export interface Drawing {
  /**
   * Begins with the charts of the findings. There may be other work until they are asked for.
   *
   * @param isShown what is not shown has a spec, but no picture
   */
  add(findings: readonly Finding[], isShown: (draft: Draft) => boolean): void;
  /** One more, such as of what a report knows besides; null draws nothing. */
  draw(draft: Draft | null): void;
  /** What has been begun, in the order of the report. */
  readonly drafts: readonly Draft[];
  finish(describe: Describe): Promise<Chart[]>;
}

/** Alternative text: the report knows the conclusion. */
export type Describe = (draft: Draft) => Pick<SvgText, 'title' | 'desc'>;

const OF_FINDINGS: readonly DraftOf[] = [
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

/** How the vehicle usually behaves; their names begin with `portrait-`. */
const OF_PORTRAIT: readonly ((scene: Scene) => Draft | null)[] = [
  portraitDay,
  portraitStatesChart,
  portraitTopUps,
  portraitShutdown,
  portraitCharging,
  portraitTemperature,
  portraitBursts,
  portraitKeyOn,
];

export function sceneOf({ analysis, session, words }: ChartInput): Scene {
  return { analysis, session, words, clock: sessionClock(session.timezone, analysis.start, words) };
}

/** Charts of the findings, one by one, so that the first can be drawn while the next is drafted. Null where there is nothing to draw. */
export function* draftsOf(subject: Subject): Generator<Draft | null> {
  for (const draftOf of OF_FINDINGS) yield draftOf(subject);
  for (const draftOf of OF_PORTRAIT) yield draftOf(subject);
  for (const finding of subject.findings) yield limitAxis(finding, subject.words);
}

/** Begins with the picture of the whole session, which needs no findings. */
export function beginDrawing(input: ChartInput, drawer: Drawer): Drawing {
  const scene = sceneOf(input);
  const drafts: Draft[] = [];
  const pictures: Promise<string | null>[] = [];

  function draw(draft: Draft | null, isShown: boolean): void {
    if (draft === null) return;
    const picture = isShown ? drawer.draw(draft.spec) : Promise.resolve(null);
    // If nobody comes back for it, nobody wants to know.
    picture.catch(() => {});
    drafts.push(draft);
    pictures.push(picture);
  }

  draw(sessionOverview(scene), true);
  return {
    drafts,
    draw: (draft) => draw(draft, true),
    add(findings, isShown) {
      for (const draft of draftsOf({ ...scene, findings })) draw(draft, draft !== null && isShown(draft));
    },
    async finish(describe) {
      const drawn = await Promise.all(pictures);
      return drafts.map((draft, k) => {
        const raw = there(drawn[k]);
        const { name, check, title, spec, altFacts, widthPx = WIDTH } = draft;
        const svg = raw === null ? null : tidySvg(raw, { ...describe(draft), idPrefix: name, widthPx });
        return { name, check, title, spec, altFacts, svg };
      });
    },
  };
}
