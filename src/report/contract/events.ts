/** What happened: periods, stands, wakes, cranks, drives, and the sums over all of them. */
import { z } from 'zod';
import {
  amount,
  amountOrNull,
  count,
  flag,
  moment,
  number,
  numberOrNull,
  openWord,
  share,
  shareOrNull,
  since,
  text,
  textOrNull,
  texts,
  toCome,
} from './fields.ts';

/** `unknown` is to come. */
export const PERIOD_KINDS = [
  'cranking',
  'driving',
  'key-on',
  'settling',
  'asleep',
  'awake',
  'on-charger',
  'disconnected',
  'no-data',
  'unknown',
] as const;

const CHARGE_IN = 'Charge that went into the battery, Ah';
const CHARGE_OUT = 'Charge that came out of the battery, Ah';

const uncertainty = (field: string, unit: string) =>
  since(
    '0.2.0',
    amountOrNull(`Expanded uncertainty of ${field} (about 95 %), ${unit}; null where ${field} is, and in older files`),
    null,
  );

export const Period = z
  .object({
    kind: openWord(PERIOD_KINDS, 'What the vehicle did'),
    start: moment('Begin'),
    end: moment('End'),
    seconds: amount('Length, s'),
    charge_in_ah: amount(CHARGE_IN),
    charge_out_ah: amount(CHARGE_OUT),
    evidence: toCome(texts('Keys of what tells the kind')),
    certainty: toCome(share('How sure the kind is, 0 to 1')),
  })
  .describe('A stretch of one kind');

const Account = z
  .object({
    settling_ah: number('While settling, Ah'),
    settling_u_ah: uncertainty('settling_ah', 'Ah'),
    asleep_ah: number('By the sleeping level, also below wakes and loads, Ah'),
    asleep_u_ah: uncertainty('asleep_ah', 'Ah'),
    wakes_ah: number('By wakes, Ah'),
    wakes_u_ah: uncertainty('wakes_ah', 'Ah'),
    held_ah: number('By loads that stay, Ah'),
    held_u_ah: uncertainty('held_ah', 'Ah'),
    fed_ah: number('Put in from outside, Ah'),
    fed_u_ah: uncertainty('fed_ah', 'Ah'),
    unknown_ah: number('What has no place among these, Ah'),
    unknown_u_ah: uncertainty('unknown_ah', 'Ah'),
  })
  .describe('Where charge_out_ah of the stand went: all but fed_ah are parts that add up to it; null in older files');

const Held = z
  .object({
    start: moment('Begin'),
    end: moment('End'),
    mean_a: number('Mean draw above the sleeping level, A'),
    mean_u_a: uncertainty('mean_a', 'A'),
    charge_ah: number('Charge above the sleeping level, Ah'),
    charge_u_ah: uncertainty('charge_ah', 'Ah'),
  })
  .describe('A load that stays');

export const Parked = z
  .object({
    start: moment('Key off, or begin of the log'),
    end: moment('Next key on, or end of the log'),
    key_off_in_log: flag('False where the log begins within this stand'),
    time_to_sleep_s: amountOrNull(
      'From key-off until first asleep, s; null where it never slept, or the log begins later',
    ),
    time_to_sleep_u_s: uncertainty('time_to_sleep_s', 's'),
    sleep_draw_a: numberOrNull('Mean draw while asleep, A, positive out of the battery; null where it never slept'),
    sleep_draw_u_a: amountOrNull('Expanded uncertainty of sleep_draw_a (about 95 %), A'),
    mean_draw_a: numberOrNull('Mean draw over the whole stand, A; null without current'),
    mean_draw_u_a: uncertainty('mean_draw_a', 'A'),
    charge_out_ah: amount(CHARGE_OUT),
    charge_out_u_ah: uncertainty('charge_out_ah', 'Ah'),
    wakes: count('Wakes in this stand'),
    rest_voltage_v: amountOrNull('Voltage at the end of the longest undisturbed rest, V; null where there was none'),
    rest_voltage_u_v: uncertainty('rest_voltage_v', 'V'),
    state_of_charge: shareOrNull('State of charge that this rest shows, 0 to 1; null where it was too short to tell'),
    state_of_charge_u: uncertainty('state_of_charge', '0 to 1'),
    account: since('0.2.0', Account.nullable(), null),
    held: since('0.2.0', z.array(Held).describe('Loads that stay'), []),
  })
  .describe('Everything between one key-off and the next key-on');

export const Wake = z
  .object({
    start: moment('Begin'),
    seconds: amount('Length, s'),
    peak_a: number('Highest draw above the sleeping level, A'),
    mean_a: number('Mean draw above the sleeping level, A'),
    charge_ah: number('Charge above the sleeping level, Ah'),
    channels: texts('Labels of the circuits that were active in it'),
  })
  .describe('An awake stretch between two asleep ones');

export const WakePattern = z
  .object({
    count: z.int().min(1).describe('Wakes of this pattern'),
    period_s: amountOrNull('Time from wake to wake, s; null where they keep no clock'),
    seconds: amount('Usual length, s'),
    mean_a: number('Usual mean draw above the sleeping level, A'),
    charge_ah_per_day: number('What they cost in a day parked, Ah'),
    channel: textOrNull('Label of the circuit that goes with them by more than chance; null where none does'),
  })
  .describe('Wakes that are alike');

export const Crank = z
  .object({
    at: moment('Begin'),
    seconds: amount('Length, s'),
    volts_before: number('Voltage just before, V'),
    volts_min: number('Lowest voltage, V'),
    volts_cranking: numberOrNull('Mean voltage after the inrush (the first 0.3 s), V; null below three samples there'),
    volts_cranking_u_v: uncertainty('volts_cranking', 'V'),
    amps_peak: amountOrNull('Highest draw, A; null without current'),
    resistance_ohm: amountOrNull('Internal resistance that the crank shows, Ω; null where it shows none'),
    resistance_u_ohm: uncertainty('resistance_ohm', 'Ω'),
    temperature_c: numberOrNull('Temperature at the time, °C; null where none was logged'),
  })
  .describe('A start of the engine');

export const Drive = z
  .object({
    start: moment('Begin'),
    end: moment('End'),
    volts_median: number('Median voltage, V'),
    charge_in_ah: amount(CHARGE_IN),
    charge_out_ah: amount(CHARGE_OUT),
  })
  .describe('A drive');

const Settlings = z
  .object({
    slow_with: count('Slow settlings with the circuit active'),
    slow_seen: count('Slow settlings seen with the channel logged'),
    quick_with: count('Quick settlings with the circuit active: what it does anyway'),
    quick_seen: count('Quick settlings seen with the channel logged'),
    charge_share: number('Share of the extra charge of slow settlings that fell into those with the circuit'),
    lag_s: numberOrNull('How long after sleep the channel turns off, s; negative where it leads'),
    chance: share('Probability of so good a match by luck'),
  })
  .describe('The same for settlings after key-off that were slow');

export const Link = z
  .object({
    channel: text('Label of the monitored circuit'),
    wakes_with: count('Wakes in which it was active'),
    wakes_seen: count('Wakes that were seen with the channel logged'),
    charge_share: number('Share of the charge of all wakes that fell into those with the circuit'),
    chance: share('Probability of so good a match by luck'),
    lag_s: since(
      '0.2.0',
      numberOrNull('How long after a wake begins the channel turns on, s; negative where it leads'),
      null,
    ),
    settlings: since(
      '0.2.0',
      Settlings.nullable().describe(`${Settlings.description}; null where none was seen`),
      null,
    ),
  })
  .describe('How a monitored circuit goes with the wakes; going together is not cause');

export const Totals = z
  .object({
    charge_in_ah: amount(`${CHARGE_IN}, over the log, without time on a charger or disconnected`),
    charge_out_ah: amount(`${CHARGE_OUT}, over the log, without time on a charger or disconnected`),
    charge_in_u_ah: since(
      '0.2.0',
      amountOrNull('Expanded uncertainty of charge_in_ah (about 95 %), Ah; null without current'),
      null,
    ),
    charge_out_u_ah: since(
      '0.2.0',
      amountOrNull('Expanded uncertainty of charge_out_ah (about 95 %), Ah; null without current'),
      null,
    ),
    driving_s: amount('Time driving, s'),
    parked_s: amount('Time parked, s: settling, asleep and awake together'),
    asleep_s: amount('Time asleep, s'),
    awake_s: amount('Time awake while parked, s'),
  })
  .describe('Sums over the log');

export const Event = z
  .object({
    kind: openWord(['failed-start', 'long-start', 'heavy-load'], 'What happened'),
    start: moment('Begin'),
    seconds: amount('Length, s'),
    mean_a: numberOrNull('Mean draw, A; null without current'),
    volts_min: number('Lowest voltage, V'),
  })
  .describe('Something out of the usual');
