/** `portrait`: how the vehicle usually behaves, in figures that can be held against those of its like. To come. */
import { z } from 'zod';
import { PERIOD_KINDS } from './events.ts';
import { amount, amountOrNull, count, number, openWord, share, text } from './fields.ts';

/** 5th, 50th and 95th percentile. */
const spread = (description: string) =>
  z
    .object({
      p05: number('5th percentile'),
      p50: number('Median'),
      p95: number('95th percentile'),
    })
    .describe(description);

const middle = (description: string) => z.object({ p50: number('Median') }).describe(description);

const State = z
  .object({
    kind: openWord(PERIOD_KINDS, 'Kind of period'),
    seconds: amount('Time in it, s'),
    share: share('Share of the log'),
    current_a: spread('Current, A, positive into the battery').nullable().describe('Current, A; null without current'),
    voltage_v: spread('Voltage, V'),
  })
  .describe('A kind of period');

const TopUps = z
  .object({
    count: count('Top-ups seen'),
    period_s: amountOrNull('Time from one to the next, s; null where they keep no clock'),
    seconds: middle('Length, s'),
    charge_ah: middle('Charge put in, Ah'),
    voltage_v: middle('Voltage, V'),
    current_a: middle('Current, A'),
  })
  .describe('Charging from a traction battery or the like while parked');

const Circuit = z
  .object({
    channel: text('Label of the circuit'),
    on_share: z
      .record(z.string(), z.number().min(0).max(1))
      .describe('Share of each kind of period in which it is on, 0 to 1'),
    off_after_key_off_s: middle('Time from key-off until it turns off, s')
      .nullable()
      .describe('Time from key-off until it turns off, s; null where it does not'),
  })
  .describe('A monitored circuit');

export const Portrait = z
  .object({
    states: z.array(State).describe('Kinds of period'),
    key_cycles: z.object({ count: count('Number') }).describe('Key on and off again'),
    drives: z.object({ count: count('Number'), minutes: spread('Length, min') }).describe('Drives'),
    starts: z.object({ count: count('Number') }).describe('Starts of the engine'),
    top_ups: TopUps,
    shutdown: z
      .array(z.object({ level_a: number('Draw, A'), seconds: amount('How long it stays, s') }).describe('A step'))
      .describe('The usual staircase of the draw after key-off, in order, the sleeping level left out'),
    circuits: z.array(Circuit).describe('Monitored circuits'),
    days: z
      .array(
        z
          .object({
            date: z.iso.date().describe("Day, YYYY-MM-DD, local to the session's zone"),
            charge_in_ah: amount('Charge into the battery, Ah'),
            charge_out_ah: amount('Charge out of the battery, Ah'),
          })
          .describe('A day'),
      )
      .describe('Day by day'),
  })
  .describe('How the vehicle usually behaves');
