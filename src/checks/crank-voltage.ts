/**
 * Voltage while cranking, after the inrush, against the minimum for the battery's temperature. One weak crank among many
 * good ones is worth watching; several, one of a few, or one that did not start the engine is a fault. The battery is
 * only one of its causes. Starts that failed although the voltage held are told too: then something else keeps the engine from running; and
 * a starter that drags when it is hot, a solenoid that does not hold, and a contact that gives way under it.
 */
import type { Analysis, Crank, Measured } from '../analysis/model.ts';
import { USUAL_CAPACITY_AH } from '../battery/capacity.ts';
import { isLithium } from '../battery/chemistry.ts';
import { crankingMinimumV, INRUSH_S, LONGEST_CRANK_S } from '../battery/cranking.ts';
import { restVoltageV } from '../battery/rest-voltage.ts';
import { median } from '../battery/statistics.ts';
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { netChargeAh } from '../measures/charge-counted.ts';
import { chatter } from '../measures/chatter.ts';
import { type ContactLoss, contactLosses } from '../measures/contact-losses.ts';
import { type FailedStarts, failedStarts } from '../measures/failed-starts.ts';
import { type CheckLimit, type DefaultLimit, limitOf, NO_SOURCE } from '../measures/limit.ts';
import { presentBattery } from '../measures/present-battery.ts';
import { RESTING_CHARGE, restedCharges } from '../measures/rested-charge.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import { dragsHot } from '../measures/warm-starts.ts';
import type { Check } from './check.ts';

const CRANKING_VOLTAGE: DefaultLimit = {
  key: 'crankingVoltage',
  value: 9.6,
  unit: 'V',
  source: `load-test minimum by temperature, US Army TM 5-4210-230-14&P-1, Table 5, and vehicle makers’ service manuals, seen; used for the voltage while cranking: ${NO_SOURCE}`,
  applies: '12 V at 21 °C or warmer; 9.1 V at −1 °C, 8.5 V at −18 °C; twice that for 24 V',
};

/** Below this part of the system's voltage no starter turns: a contact was lost. The lowest plateau of a starting profile is 5 V of 12 V (ISO 16750-2, second-hand). */
const NO_CRANK = 0.25;

/** A solenoid that pulls in and lets go again takes no longer, s. Common practice, no source. */
const CLICK_S = 0.1;

/** A start and the event that tells of it begin within this, s. */
const SAME_S = 2;

/** Stories of a fault by which the next start may fail. */
const WEAK: ReadonlySet<string | undefined> = new Set([undefined, 'too-weak', 'contact']);

type Facts = {
  readonly cranks: number;
  readonly stepS?: number;
  readonly inrushS?: number;
  readonly judged: number;
  readonly weak: number;
  readonly typicalV: number;
  readonly accuracyStated: boolean;
  readonly worstT: number;
  readonly worstS: number;
  readonly beforeV: number;
  readonly leastV: number;
  readonly temperatureC: number | null;
  readonly temperatureKnown: boolean;
  readonly peakA: number | null;
  readonly failed: number;
  readonly failedT: number | null;
  readonly failedOnce: boolean;
  readonly neverRan: boolean;
  /** At the rest before one of the weak cranks it was, and little went since: then a low charge is no reason. */
  readonly charged: boolean;
  readonly tooLongS: number | null;
  /** Readings before a start are this far apart, too slow for a solenoid that only clicks. */
  readonly slowS?: number | null;
  /** Only of the variant `drags-hot`: how many starts of each, their draw and length. */
  readonly warm?: number;
  readonly warmA?: number;
  readonly warmS?: number;
  readonly cold?: number;
  readonly coldA?: number;
  readonly coldS?: number;
  /** Only of the variant `chatters`: how often, when last, and what was seen then. */
  readonly chatters?: number;
  readonly severalChatters?: boolean;
  readonly chatterT?: number;
  readonly bursts?: number;
  readonly chatterA?: number;
  readonly chatterV?: number;
  /** Only of the variant `contact`: how often, the last of them, and the start after it. */
  readonly contacts?: number;
  readonly severalContacts?: boolean;
  readonly contactT?: number;
  readonly contactV?: number;
  readonly contactA?: number;
  readonly thenS?: number;
  readonly thenV?: number;
  readonly thenA?: number | null;
};

/** Starts that failed where no crank could be judged. */
type NotStarted = {
  readonly cranks: number;
  readonly failed: number;
  readonly failedT: number;
  readonly failedOnce: boolean;
  readonly neverRan: boolean;
  /** What flowed out in the ten minutes after each of them, Ah. */
  readonly afterAh: number;
  /** The voltage held, of a battery that was nearly empty before. */
  readonly wasLow: boolean;
  readonly tooLongS?: undefined;
};

export const check: Check<Facts | NotStarted> = {
  id: 'crank-voltage',
  about: 'vehicle',
  named: true,
  unfit: ({ status, variant }) => status === 'fault' && variant !== undefined,
  // What did not start today, or cannot be counted on to, starts after no fortnight.
  doubts: ({ status, variant, facts }) =>
    status === 'fault' && (facts?.neverRan === true || WEAK.has(variant)) ? ['stand-time'] : null,
  side: 'min',
  // Where the voltage holds while cranking, no battery is why the engine does not run.
  causes: ({ variant }) => {
    // A drive in which nothing charges is what a failed start looks like.
    if (variant === 'may-have-run') return ['charging-low'];
    return variant === undefined || variant === 'too-weak'
      ? ['deep-discharge', 'resting-charge', 'battery-resistance']
      : [];
  },
  compared: [{ name: 'cranking-voltage', unit: 'V', better: 'higher', oneLimit: false, followed: true }],
  gives: { key: 'crankingVoltage', margin: 0.5, fallsWithCold: true },
  needs: [],
  restsOn: ['cranking'],
  limits: [CRANKING_VOLTAGE],
  reasons: ['no-starter', 'no-crank', 'too-few-samples', 'no-crank-temperature', 'limit-within-uncertainty'],
  cautions: ['general', 'hydrogen', 'acid', 'short-circuit', 'exhaust', 'lifting', 'moving-parts'],
  answer(all, session) {
    const analysis = presentBattery(all, session);
    if (session.vehicle.powertrain === 'electric') return { status: 'undecided', reason: 'no-starter' };
    if (analysis.cranks.length === 0) {
      return { status: 'undecided', reason: session.vehicle.powertrain === 'hybrid' ? 'no-starter' : 'no-crank' };
    }
    const leastV = NO_CRANK * session.vehicle.systemV;
    const judged = analysis.cranks
      .filter(hasPlateau)
      .filter(({ voltsCranking }) => voltsCranking.value > leastV)
      .map((crank) => judge(crank, session));
    const worst = mostBy(judged, (one) => one.limit.value - one.volts);
    const lost = failedStarts(analysis, session);
    const mayHaveRun = lost?.mayHaveRun === true;
    if (lost && (!worst || mayHaveRun)) {
      return notStarted(analysis, lost, mayHaveRun ? 'may-have-run' : 'no-start-open');
    }
    if (!worst) {
      return {
        status: 'undecided',
        facts: { cranks: analysis.cranks.length, stepS: analysis.medianStepS, inrushS: INRUSH_S },
        reason: 'too-few-samples',
      };
    }

    const weak = judged.filter((one) => one.decision === 'beyond');
    const base = {
      measured: { value: worst.volts, unit: 'V', uncertainty: worst.U, coverage: worst.crank.voltsCranking.k },
      limit: worst.limit,
      facts: {
        ...crankFacts(analysis, worst.crank),
        ...(lost && { failed: lost.count }),
        failedT: lost?.lastT ?? null,
        failedOnce: lost?.count === 1,
        neverRan: lost?.isLost ?? false,
        charged: weak.some(({ crank }) => isCharged(analysis, crank, session)),
        cranks: analysis.cranks.length,
        judged: judged.length,
        weak: weak.length,
        typicalV: median(judged.map((one) => one.volts)),
        accuracyStated: accuracyStated('voltage', session),
      },
      evidence: [{ chart: 'crank-voltage', from: worst.crank.at, to: worst.crank.at + worst.crank.seconds }],
    } as const;
    const contacts = contactLosses(all, session);
    const contact = contacts.at(-1);
    // A crank that a contact spoils tells nothing of the battery.
    const others = weak.filter(({ crank }) => !contacts.some(({ load }) => Math.abs(load.start - crank.at) < SAME_S));
    if (contact && others.length === 0) {
      const facts = {
        ...base.facts,
        ...contactFacts(contact),
        contacts: contacts.length,
        severalContacts: contacts.length > 1,
      };
      const evidence = [{ chart: 'session-overview', from: contact.load.start - 600, to: contact.start.at + 600 }];
      return { ...base, status: 'fault', variant: 'contact', facts, evidence };
    }
    // That a nearly empty battery held up says nothing of what else it is.
    if (lost && weak.length === 0 && isLow(worst.crank, session))
      return notStarted(analysis, lost, 'no-start-open', true);
    if (lost && weak.length === 0) return { ...base, status: lost.isFault ? 'fault' : 'watch', variant: 'no-start' };
    const heard = worst.decision === 'beyond' ? null : chatter(all, session);
    if (heard) {
      const facts = {
        ...base.facts,
        chatters: heard.times,
        severalChatters: heard.times > 1,
        chatterT: heard.lastT,
        bursts: heard.bursts,
        chatterA: heard.mostA,
        chatterV: heard.leastV,
      };
      const evidence = [{ chart: 'session-overview', from: heard.lastT - 600, to: heard.lastT + 600 }];
      return { ...base, status: 'watch', variant: 'chatters', facts, evidence };
    }
    const drags = worst.decision === 'beyond' ? null : dragsHot(all, session);
    if (drags) {
      const { warm, cold } = drags;
      const facts = {
        ...base.facts,
        warm: warm.count,
        warmA: warm.amps,
        warmS: warm.seconds,
        cold: cold.count,
        coldA: cold.amps,
        coldS: cold.seconds,
      };
      return { ...base, status: 'watch', variant: 'drags-hot', facts };
    }
    if (worst.decision === 'within') {
      const stepS = analysis.stepsS.parked ?? analysis.medianStepS;
      return { ...base, status: 'clear', facts: { ...base.facts, slowS: stepS > CLICK_S ? stepS : null } };
    }
    if (worst.decision === 'undecided') {
      const reason =
        worst.crank.temperatureC === null && !holdsInAnyCold(session)
          ? 'no-crank-temperature'
          : 'limit-within-uncertainty';
      return { ...base, status: 'undecided', reason };
    }
    const often = weak.length >= 2 || weak.length * 3 >= judged.length;
    const isFault = often || weak.some((one) => !one.crank.started);
    if (isFault && lost) return { ...base, status: 'fault', variant: 'too-weak' };
    return { ...base, status: isFault ? 'fault' : 'watch' };
  },
};

/** So much of the capacity may have gone since the rest that shows the charge; without current nobody knows after so long, s. Common practice, no source. */
const GONE = 0.05;
const UNSEEN_S = 1800;

function isCharged(analysis: Analysis, { at }: Crank, session: Session): boolean {
  const { charges } = restedCharges(analysis, session);
  const before = charges.findLast(({ rest }) => rest.at <= at);
  if (!before || before.value - before.U < limitOf(RESTING_CHARGE, session).value) return false;
  if (!analysis.has.current) return at - before.rest.at < UNSEEN_S;
  const goneAh = -netChargeAh(analysis.periods, before.rest.at, at);
  return goneAh < GONE * (session.battery.capacityAh ?? USUAL_CAPACITY_AH);
}

/** Below the rested voltage of a quarter of its charge. */
const LOW = 0.25;

function isLow({ voltsBefore }: Crank, { battery, vehicle }: Session): boolean {
  return !isLithium(battery.chemistry) && voltsBefore < restVoltageV(battery.chemistry, vehicle.systemV, LOW);
}

function notStarted(analysis: Analysis, lost: FailedStarts, variant: string, wasLow = false) {
  return {
    status: lost.isFault ? 'fault' : 'watch',
    variant,
    facts: {
      cranks: analysis.cranks.length,
      failed: lost.count,
      failedT: lost.lastT,
      failedOnce: lost.count === 1,
      neverRan: lost.isLost,
      afterAh: lost.afterAh,
      wasLow,
    },
    evidence: [{ chart: 'session-overview', from: analysis.start, to: analysis.end }],
  } as const;
}

type Judged = Crank & { readonly voltsCranking: Measured };

function hasPlateau(crank: Crank): crank is Judged {
  return crank.voltsCranking !== null;
}

function judge(crank: Judged, session: Session) {
  const volts = crank.voltsCranking.value;
  const U = expandedU(crank.voltsCranking);
  const limit = crankLimit(crank, session);
  const decision = decide({ value: volts, U, limit: limit.value, side: 'min' });
  if (crank.temperatureC !== null || holdsInAnyCold(session)) return { crank, volts, U, limit, decision };
  // Without a temperature only what holds at every temperature of the table is a verdict.
  const coldestV = crankingMinimumV(session.vehicle.systemV, -18) + aboveTableV(session);
  const coldest = decide({ value: volts, U, limit: coldestV, side: 'min' });
  const open = decision === 'beyond' && coldest !== 'beyond';
  return { crank, volts, U, limit, decision: open ? ('undecided' as const) : decision };
}

/** At the crank's temperature; without one, the strictest of the table. */
function crankLimit(crank: Crank, session: Session): CheckLimit {
  const standard = limitOf(CRANKING_VOLTAGE, session);
  if (holdsInAnyCold(session)) return standard;
  const tableV = crankingMinimumV(session.vehicle.systemV, crank.temperatureC);
  return { ...standard, value: tableV + aboveTableV(session) };
}

/** True of a limit that the session sets at one figure. */
function holdsInAnyCold({ limits: { crankingVoltage } }: Session): boolean {
  return crankingVoltage !== undefined && !crankingVoltage.fallsWithCold;
}

/** How far a limit that falls with the cold lies above the table at every temperature, V. */
function aboveTableV(session: Session): number {
  const { crankingVoltage } = session.limits;
  return crankingVoltage?.fallsWithCold ? crankingVoltage.value - strictestV(session) : 0;
}

const strictestV = ({ vehicle }: Session) => crankingMinimumV(vehicle.systemV, null);

const contactFacts = ({ load, start }: ContactLoss) => ({
  contactT: load.start,
  contactV: load.voltsMin,
  contactA: load.meanA ?? 0,
  thenS: start.at - load.start,
  thenV: start.voltsMin,
  thenA: start.ampsPeak,
});

function crankFacts(analysis: Analysis, crank: Crank) {
  const failed = analysis.cranks.filter((one) => !one.started).length;
  const longestS = Math.max(...analysis.cranks.map((one) => one.seconds));
  return {
    worstT: crank.at,
    worstS: crank.seconds,
    beforeV: crank.voltsBefore,
    leastV: crank.voltsMin,
    temperatureC: crank.temperatureC,
    temperatureKnown: crank.temperatureC !== null,
    peakA: crank.ampsPeak,
    failed,
    tooLongS: longestS > LONGEST_CRANK_S ? longestS : null,
  };
}
