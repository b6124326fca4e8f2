/** `portrait`: how the vehicle usually behaves, in figures that can be held against those of its like. */
import { z } from 'zod';
import { PERIOD_KINDS } from './events.ts';
import { amount, amountOrNull, count, moment, number, numberOrNull, openWord, share, since, text } from './fields.ts';

/** 5th, 50th and 95th percentile; of few occurrences the outer ones lie near the least and the most. */
const spread = (description: string) =>
  z
    .object({
      p05: number('5th percentile'),
      p50: number('Median'),
      p95: number('95th percentile'),
    })
    .describe(description);

/** The same of what may not have been seen at all. */
const seen = (description: string) =>
  z
    .object({
      p05: numberOrNull('5th percentile; null where none was seen'),
      p50: numberOrNull('Median; null where none was seen'),
      p95: numberOrNull('95th percentile; null where none was seen'),
    })
    .describe(description);

const CURRENT = 'Current over its time, A, positive into the battery';

const State = z
  .object({
    kind: openWord(PERIOD_KINDS, 'Kind of period'),
    seconds: amount('Time in it, s'),
    share: share('Share of the log'),
    current_a: spread(CURRENT).nullable().describe(`${CURRENT}; null without current`),
    voltage_v: spread('Voltage over its time, V'),
    current_u_a: amountOrNull('Expanded uncertainty of the median of current_a (about 95 %), A; null without current'),
    voltage_u_v: amount('Expanded uncertainty of the median of voltage_v (about 95 %), V'),
  })
  .describe(
    'A kind of period that has readings. Percentiles are of the time: of means over a second, or over the step of a slower log, or over up to minutes of a quiet stretch in a log of weeks',
  );

const TopUps = z
  .object({
    count: count('Top-ups seen'),
    period_s: amountOrNull('Time from one to the next, begin to begin, s; null where they keep no clock'),
    seconds: seen('Length, s'),
    charge_ah: seen('Charge put in, Ah'),
    voltage_v: seen('Mean voltage of each, V'),
    current_a: seen('Mean current of each, A'),
    end_current_a: seen('What still flowed in when it ended, A'),
    after_s: seen('From key-off, or the end of the top-up before it, to its begin, s'),
    ended_by_key_on: count('Those that a key-on ended'),
    share: share('Share of the log; it is a part of the time awake'),
    while_current_a: seen('Current over the time of all of them, A'),
    while_voltage_v: seen('Voltage over the time of all of them, V'),
  })
  .describe('Charging from a traction battery or the like while parked');

const Step = z
  .object({
    level_a: number('Draw, A: median over the key-offs'),
    seconds: amount('How long it stays, s: median over the key-offs'),
    level_range_a: spread('Draw, A'),
    seconds_range: spread('How long it stays, s'),
    count: count('Key-offs after which it came'),
  })
  .describe('A step');

const Circuit = z
  .object({
    channel: text('Label of the circuit'),
    on_share: z
      .record(z.string(), z.number().min(0).max(1))
      .describe('Share of each kind of period in which it is on, 0 to 1'),
    off_after_key_off_s: spread('Time from key-off until it turns off, s')
      .nullable()
      .describe('Time from key-off until it turns off, s; null where it does not'),
    off_seen: count('Key-offs after which it turned off'),
    on_after_key_on_s: spread('Time from key-on until it turns on, s')
      .nullable()
      .describe(
        'Time from key-on until it turns on, s, negative where it was on before; null where it did so at fewer than half of the key-ons',
      ),
    on_seen: count('Key-ons about which it turned on'),
    voltage_on_v: spread('Voltage while on, V').nullable().describe('Voltage while on, V; null where it never was'),
    voltage_off_v: spread('Voltage while off, V').nullable().describe('Voltage while off, V; null where it never was'),
    pulses: count('Times that it was on for a while within a stand'),
    pulse_s: seen('Length of those, s'),
  })
  .describe('A monitored circuit');

const Day = z
  .object({
    date: z.iso.date().describe("Day, YYYY-MM-DD, local to the session's zone"),
    charge_in_ah: amount('Charge into the battery, Ah, without time on a charger or disconnected, as in totals'),
    charge_out_ah: amount('Charge out of the battery, Ah, without time on a charger or disconnected, as in totals'),
    charger_ah: amount('Charge from a charger, Ah'),
    driving_s: amount('Time driving, s'),
    voltage_min_v: since(
      '0.2.0',
      numberOrNull('Lowest voltage read, cranks too, V; null where nothing was read'),
      null,
    ),
    depth_ah: since(
      '0.2.0',
      amountOrNull('Most charge that lacked to the fullest moment of the log until then, Ah; null without current'),
      null,
    ),
    temperature_min_c: since('0.2.0', numberOrNull('Coldest, °C; null without temperature'), null),
    temperature_max_c: since('0.2.0', numberOrNull('Warmest, °C; null without temperature'), null),
  })
  .describe('A day');

const ChargingPart = z
  .object({
    from_s: amount('From so long after the begin of a drive, s'),
    to_s: amountOrNull('To so long after, s; null until the drives end'),
    drives: count('Drives that lasted into it'),
    voltage_v: spread('Voltage over its time, V'),
    current_a: spread(CURRENT).nullable().describe(`${CURRENT}; null without current`),
  })
  .describe('A part of all drives');

const PutBack = z
  .object({
    minutes: number('Length of a drive, min'),
    drives: count('Drives that lasted so long'),
    charge_ah: spread('Net charge from its begin until then, Ah'),
  })
  .describe('What a drive of so many minutes puts back');

const TemperaturePart = z
  .object({
    from_c: number('From this temperature of the battery, °C'),
    to_c: number('To this one, °C'),
    seconds: amount('Driving time in it, without the first 2 min of each drive, s'),
    drives: count('Drives that were in it'),
    voltage_v: spread('Voltage over its time, V'),
    current_a: spread(CURRENT).nullable().describe(`${CURRENT}; null without current`),
  })
  .describe('All drives at a temperature');

const Bursts = z
  .object({
    count: count('Bursts seen'),
    per_hour: amount('For each hour of driving, without the first 2 min of each drive'),
    seconds: spread('Length, s'),
    voltage_v: spread('Mean voltage of each, V'),
    current_a: spread('Mean current of each, A, positive into the battery'),
    charge_ah: spread('Charge put in by each, Ah'),
    between_voltage_v: number('Mean voltage between them, V'),
    between_current_a: number('Mean current between them, A, positive into the battery'),
    share: share('Part of the charge that came in while driving, without the first 2 min of each drive'),
  })
  .describe('Charging that is raised for seconds and lowered in between, as on the overrun or while braking');

const Unusual = z
  .object({
    figure: openWord(['sleep-draw', 'sleep-time'], 'What is unlike'),
    start: moment('Begin of the stand'),
    value: number('Value of that stand, A or s'),
    usual: spread('Of the others, A or s'),
    others: count('How many others'),
  })
  .describe('A stand unlike the others; no fault by itself');

export const Portrait = z
  .object({
    states: z.array(State).describe('Kinds of period'),
    key_cycles: z
      .object({ count: count('Number'), with_drive: count('Those with a drive') })
      .describe('Key on and off again; the first or last may be cut short by the log'),
    drives: z.object({ count: count('Number'), minutes: seen('Length, min') }).describe('Drives'),
    starts: z
      .object({ count: count('Number'), restarts: count('Those of them during a drive, after a stop') })
      .describe('Starts of the engine by its starter'),
    top_ups: TopUps,
    settlings: z
      .object({ count: count('Number'), seconds: seen('Length, s') })
      .describe('Undisturbed settlings from key-off to sleep, of which shutdown is made'),
    shutdown: z
      .array(Step)
      .describe('The usual staircase of the draw after key-off, in order, the sleeping level left out'),
    circuits: z.array(Circuit).describe('Monitored circuits'),
    days: z.array(Day).describe('Day by day'),
    charging: z.array(ChargingPart).describe('Voltage and current by time since a drive began'),
    charging_by_temperature: since(
      '0.2.0',
      z.array(TemperaturePart).describe('Voltage and current while driving by temperature of the battery'),
      [],
    ),
    bursts: since(
      '0.2.0',
      Bursts.nullable().describe(
        `${Bursts.description}; null where there is no such pattern, or the log is too slow to show one`,
      ),
      null,
    ),
    put_back: z.array(PutBack).describe('What drives put back'),
    unusual: z.array(Unusual).describe('Stands unlike the others of the log'),
  })
  .describe('How the vehicle usually behaves');
