/** Before fitting: what the card holds, how long to log, how long the vehicle may stand; each answer, or null with the reason. Numbers in SI. */
import { chargeToNoStartAh, RATED_H, standDays } from '../battery/capacity.ts';
import type { Chemistry, Range } from '../battery/chemistry.ts';
import { expectedToSee } from '../battery/counts.ts';
import {
  type DrawSensor,
  drawUncertaintyA,
  hoursOnCard,
  LARGEST_FILE_BYTES,
  secondsToUncertainty,
  textRowBytes,
} from '../battery/planning.ts';
import { selfDischargePerDay } from '../battery/self-discharge.ts';
import { type Accuracy, type Decision, decide } from '../battery/uncertainty.ts';
import { PARKED_DRAW } from './stands.ts';

/** As given; undefined: the option is missing. */
export interface PlanAsked {
  readonly stepS?: number;
  readonly rowBytes?: number;
  /** Values in a row beside its time, where no row size is given. */
  readonly columns?: number;
  readonly cardBytes?: number;
  /** The logger begins a new file each so many seconds. */
  readonly fileS?: number;
  readonly eventEveryS?: number;
  readonly times: number;
  readonly confidence: number;
  readonly drawA?: number;
  readonly capacityAh?: number;
  /** 0 to 1 */
  readonly charge?: number;
  readonly chemistry?: Chemistry;
  readonly temperatureC?: number;
  readonly accuracy?: Accuracy;
  readonly noiseA?: number;
  readonly resolutionA?: number;
  readonly uncertaintyA?: number;
  readonly limitA?: number;
}

export interface PlanAnswer {
  readonly hours_on_card: number | null;
  readonly hours_to_see: number | null;
  readonly stand_days: Range | null;
  /** To know the mean draw to the uncertainty asked for. */
  readonly hours_to_measure: number | null;
  /** What the sensor can say of the limit: draws from … to get no verdict. */
  readonly limit: {
    readonly value_a: number;
    /** Null: as given. */
    readonly source: string | null;
    readonly uncertainty_a: number;
    readonly open_from_a: number;
    readonly open_to_a: number;
    /** Of the draw given; null without one. */
    readonly decision: Decision | null;
  } | null;
  /** May the vehicle stand as long as the longest of the logs asked for? */
  readonly may_stand: 'yes' | 'no' | 'undecided' | null;
  /** Why an answer is null, by its key. */
  readonly reasons: Readonly<Record<string, PlanReason>>;
  /** What was taken where nothing was said, and what the answers rest on. */
  readonly taken: readonly PlanNote[];
}

export type PlanReason =
  | { readonly kind: 'missing'; readonly what: readonly (keyof PlanAsked)[] }
  /** However long the log is. */
  | { readonly kind: 'sensor-leaves'; readonly leastA: number }
  | { readonly kind: 'no-stand' }
  | { readonly kind: 'no-length' };

export type PlanNote =
  | { readonly key: 'row-bytes'; readonly bytes: number }
  | { readonly key: 'card' | 'by-chance' | 'any-chemistry' | 'no-start' | 'high-draw' }
  | { readonly key: 'largest-file'; readonly hours: number }
  | { readonly key: 'any-temperature'; readonly lowC: number; readonly highC: number };

/** Taken as the span of the battery's temperature where none is given, °C; as `stand-time` does. */
const UNSEEN_C = { low: 5, high: 25 };

export function planAnswer(asked: PlanAsked): PlanAnswer {
  const reasons: Record<string, PlanReason> = {};
  const taken: PlanNote[] = [];
  const lacking: Lacking = (key, needs) => {
    const what = (Object.keys(needs) as (keyof PlanAsked)[]).filter((name) => needs[name] === undefined);
    if (what.length > 0) reasons[key] = { kind: 'missing', what };
  };
  const hoursOn = onCard(asked, lacking, taken);
  const hoursToSee = toSee(asked, lacking, taken);
  const standing = stand(asked, lacking, taken);
  const measure = toMeasure(asked, lacking, reasons);
  const answer = {
    hours_on_card: hoursOn,
    hours_to_see: hoursToSee,
    stand_days: standing,
    hours_to_measure: measure,
    limit: limitAnswer(asked, lacking),
  };
  return { ...answer, may_stand: mayStand(answer, reasons), reasons, taken };
}

type Lacking = (key: string, needs: Partial<Record<keyof PlanAsked, unknown>>) => void;

function onCard(asked: PlanAsked, lacking: Lacking, taken: PlanNote[]): number | null {
  const { stepS, cardBytes, columns, fileS } = asked;
  const rowBytes = asked.rowBytes ?? (columns === undefined ? undefined : textRowBytes(columns));
  lacking('hours_on_card', { stepS, rowBytes, cardBytes });
  if (stepS === undefined || rowBytes === undefined || cardBytes === undefined) return null;
  if (asked.rowBytes === undefined) taken.push({ key: 'row-bytes', bytes: rowBytes });
  const hours = hoursOnCard({ cardBytes, rowBytes, stepS, fileS });
  taken.push({ key: 'card' });
  const fileHours = Math.min(hours, (fileS ?? Number.POSITIVE_INFINITY) / 3600);
  const fileBytes = ((fileHours * 3600) / stepS) * rowBytes;
  if (fileBytes > LARGEST_FILE_BYTES) {
    const fullHours = (LARGEST_FILE_BYTES / rowBytes) * (stepS / 3600);
    taken.push({ key: 'largest-file', hours: Math.floor(fullHours) });
  }
  return hours;
}

function toSee(asked: PlanAsked, lacking: Lacking, taken: PlanNote[]): number | null {
  const { eventEveryS, times, confidence } = asked;
  lacking('hours_to_see', { eventEveryS });
  if (eventEveryS === undefined) return null;
  taken.push({ key: 'by-chance' });
  return (expectedToSee(times, confidence) * eventEveryS) / 3600;
}

function stand(asked: PlanAsked, lacking: Lacking, taken: PlanNote[]): Range | null {
  const { drawA, capacityAh, charge, chemistry = 'flooded', temperatureC } = asked;
  lacking('stand_days', { drawA, capacityAh, charge });
  if (drawA === undefined || capacityAh === undefined || charge === undefined) return null;
  if (asked.chemistry === undefined) taken.push({ key: 'any-chemistry' });
  if (temperatureC === undefined) taken.push({ key: 'any-temperature', lowC: UNSEEN_C.low, highC: UNSEEN_C.high });
  taken.push({ key: 'no-start' });
  if (drawA > capacityAh / RATED_H) taken.push({ key: 'high-draw' });
  const lossPerDay = {
    low: selfDischargePerDay(chemistry, temperatureC ?? UNSEEN_C.low).low,
    high: selfDischargePerDay(chemistry, temperatureC ?? UNSEEN_C.high).high,
  };
  const U = asked.accuracy ? drawUncertaintyA(sensorOf(asked, asked.accuracy), drawA, Number.POSITIVE_INFINITY) : 0;
  return standDays({
    chemistry,
    capacityAh,
    toLoseAh: chargeToNoStartAh(capacityAh, charge),
    drawA: { low: drawA - U, high: drawA + U },
    lossPerDay,
  });
}

function toMeasure(asked: PlanAsked, lacking: Lacking, reasons: Record<string, PlanReason>): number | null {
  const { drawA, accuracy, noiseA, stepS, uncertaintyA } = asked;
  lacking('hours_to_measure', { drawA, accuracy, noiseA, stepS, uncertaintyA });
  if (drawA === undefined || !accuracy || noiseA === undefined || stepS === undefined || uncertaintyA === undefined)
    return null;
  const sensor = sensorOf(asked, accuracy);
  const seconds = secondsToUncertainty(sensor, drawA, uncertaintyA);
  if (seconds === null) {
    const leastA = drawUncertaintyA(sensor, drawA, Number.POSITIVE_INFINITY);
    reasons.hours_to_measure = { kind: 'sensor-leaves', leastA };
  }
  return seconds === null ? null : seconds / 3600;
}

function limitAnswer(asked: PlanAsked, lacking: Lacking): PlanAnswer['limit'] {
  const { accuracy, drawA } = asked;
  lacking('limit', { accuracy });
  if (!accuracy) return null;
  const limitA = asked.limitA ?? PARKED_DRAW.value;
  const U = (valueA: number) => drawUncertaintyA(sensorOf(asked, accuracy), valueA, Number.POSITIVE_INFINITY);
  return {
    value_a: limitA,
    source: asked.limitA === undefined ? PARKED_DRAW.source : null,
    uncertainty_a: U(limitA),
    open_from_a: Math.max(0, limitA - U(limitA)),
    open_to_a: limitA + U(limitA),
    decision: drawA === undefined ? null : decide({ value: drawA, U: U(drawA), limit: limitA, side: 'max' }),
  };
}

function sensorOf({ noiseA = 0, resolutionA = 0, stepS = 1 }: PlanAsked, accuracy: Accuracy): DrawSensor {
  return { accuracy, resolutionA, noiseA, stepS };
}

type Times = Pick<PlanAnswer, 'hours_to_see' | 'hours_to_measure' | 'stand_days'>;

function mayStand(answer: Times, reasons: Record<string, PlanReason>): PlanAnswer['may_stand'] {
  const neededH = Math.max(answer.hours_to_see ?? 0, answer.hours_to_measure ?? 0);
  if (answer.stand_days === null || neededH === 0) {
    reasons.may_stand = { kind: answer.stand_days === null ? 'no-stand' : 'no-length' };
    return null;
  }
  if (neededH <= answer.stand_days.low * 24) return 'yes';
  return neededH > answer.stand_days.high * 24 ? 'no' : 'undecided';
}
