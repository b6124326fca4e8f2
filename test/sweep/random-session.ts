/** Whole invented sessions by number: a random vehicle, the manifest that fits it, and a random way of writing the log. */
import type { LogStyle, TimeStyle } from '../../src/demo/log-text.ts';
import { PLAIN_STYLE } from '../../src/demo/log-text.ts';
import { makeRandom, type Random } from '../../src/demo/random.ts';
import type { BatterySpec } from '../../src/demo/scenario.ts';
import type { DemoSession } from '../../src/demo/write-session.ts';
import { randomScenario, type Wishes } from './vehicles.ts';

const ZONES = [
  'UTC',
  'Europe/Dublin',
  'Europe/Berlin',
  'America/New_York',
  'America/St_Johns',
  'Asia/Kolkata',
  'Australia/Adelaide',
];
const TIMES: readonly TimeStyle[] = [
  'iso',
  'iso-local',
  'epoch-s',
  'epoch-ms',
  'elapsed-s',
  'DD.MM.YYYY HH:mm:ss,SSS',
  'DD/MM/YYYY HH:mm:ss.SSS',
  'MM/DD/YYYY HH:mm:ss.SSS',
];

export function randomSession(number: number, wishes: Wishes = {}): DemoSession {
  const random = makeRandom(500_009 * (number + 1));
  const scenario = randomScenario(number, wishes);
  const timezone = random.pick(ZONES);
  return {
    scenario,
    style: randomStyle(random, timezone),
    words: {
      session: {
        id: `vehicle-${number}`,
        title: `Invented vehicle ${number}`,
        purpose: random.pick(['baseline', 'complaint', 'after-repair']),
        timezone,
      },
      vehicle: { description: `Invented ${scenario.powertrain} vehicle, ${scenario.systemV} V` },
      battery: ratingOf(scenario.battery),
      accuracy: { voltage: '0.1 % + 10 mV', current: '1 % + 5 mA', range: `${scenario.sensor.rangeA} A` },
    },
  };
}

function ratingOf({ rating }: BatterySpec) {
  if (!rating) return {};
  return {
    cold_cranking: `${rating.coldCrankingA} A`,
    ...(rating.standard && { cranking_standard: rating.standard }),
  };
}

function randomStyle(random: Random, timezone: string): LogStyle {
  const time = random.pick(TIMES);
  const decimal = random.pick(['.', '.', ','] as const);
  const commaInCells = decimal === ',' || time.includes(',');
  return {
    ...PLAIN_STYLE,
    time,
    timezone,
    decimal,
    delimiter: commaInCells ? random.pick([';', '\t'] as const) : random.pick([',', ';', '\t'] as const),
    currentUnit: random.chance(0.2) ? 'mA' : 'A',
    voltageUnit: random.chance(0.15) ? 'mV' : 'V',
    positive: random.chance(0.25) ? 'discharging' : 'charging',
    lineEnd: random.pick(['\n', '\r\n'] as const),
    preamble: random.chance(0.3) ? ['Battery log', 'Rows follow'] : [],
    split: random.pick(['one', 'daily'] as const),
    gzip: random.chance(0.3),
  };
}
