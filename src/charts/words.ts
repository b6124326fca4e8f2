/** Every word a chart says, and how its language writes numbers: another language is another object of this type. */
import type { PeriodKind } from '../analysis/analysis.ts';
import type { FaultKind } from '../log/block.ts';

export interface Words {
  readonly decimalMark: '.' | ',';
  readonly weekdays: readonly [string, string, string, string, string, string, string];
  readonly months: readonly string[];
  /** `Tue 3 Mar` in the language's order. */
  readonly day: (weekday: string, day: number, month: string) => string;
  /** `day` where the ticks say only hours. */
  readonly localTime: (zone: string, day?: string) => string;
  readonly periods: Readonly<Record<PeriodKind, string>>;
  readonly faults: Readonly<Record<FaultKind, string>>;
  readonly signs: Readonly<Record<'crank' | 'driving' | 'step' | 'asleep', string>>;
  /** Units of time and count that have no symbol of their own. */
  readonly days: string;
  readonly titles: {
    readonly sessionOverview: string;
    readonly parkedDraw: string;
    readonly sleepTime: string;
    readonly wakeUps: string;
    readonly heldAwake: string;
    readonly circuitLink: string;
    readonly standTime: string;
    readonly restingCharge: string;
    readonly deepDischarge: string;
    readonly freezeRisk: string;
    readonly crankVoltage: string;
    readonly batteryResistance: string;
    readonly charging: string;
    readonly chargeBalance: string;
    readonly logCoverage: string;
    readonly currentDirection: string;
  };
  readonly voltage: string;
  readonly current: string;
  readonly currentNote: string;
  readonly temperature: string;
  readonly periodsTitle: string;
  readonly limit: string;
  readonly notes: string;
  readonly band: string;
  readonly drawAsleep: string;
  readonly sinceKeyOff: string;
  readonly asleepAfter: (time: string) => string;
  readonly notAsleep: string;
  readonly chargeLeft: string;
  /** In two short lines. */
  readonly noStart: readonly [string, string];
  readonly daysStanding: string;
  readonly soonest: (days: string) => string;
  readonly latest: (days: string) => string;
  readonly sinceCrank: string;
  readonly inrush: string;
  readonly someOf: (shown: number, all: number) => string;
  readonly lowest: string;
  readonly resistance: string;
  readonly resistanceNote: string;
  readonly parkedOnly: string;
  readonly freezeNote: string;
  readonly window: string;
  readonly chargeAh: string;
  readonly balanceNote: string;
  readonly draw: string;
  readonly drawAmps: string;
  readonly cranksNote: string;
  readonly drivesNote: string;
  readonly standNote: string;
  readonly stateOfCharge: string;
  readonly restNote: string;
  readonly wakesTitle: string;
  readonly wakesNote: string;
  /** Where they come in several patterns. */
  readonly patternsNote: string;
  readonly awakeFor: string;
  readonly awakeNote: string;
  readonly circuitsOn: string;
  readonly linkNote: string;
  readonly sleepNote: string;
  readonly logged: string;
  readonly agree: string;
  readonly against: string;
}

export const ENGLISH: Words = {
  decimalMark: '.',
  weekdays: ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'],
  months: ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'],
  day: (weekday, day, month) => `${weekday} ${day} ${month}`,
  localTime: (zone, day) => `${day ? `${day}, local time` : 'Local time'}, ${zone}`,
  periods: {
    cranking: 'cranking',
    driving: 'driving',
    'key-on': 'key on',
    settling: 'settling',
    awake: 'awake',
    asleep: 'asleep',
    'on-charger': 'on charger',
    disconnected: 'disconnected',
    'no-data': 'no data',
  },
  faults: {
    gap: 'gap',
    'clock-jump': 'clock jump',
    'duplicate-rows': 'repeated',
    'out-of-order': 'out of order',
    'unreadable-row': 'unreadable',
    'cut-short': 'cut short',
    'out-of-range': 'out of range',
    frozen: 'frozen',
    overlap: 'overlap',
    'ambiguous-time': 'two times',
    'impossible-time': 'no such time',
    empty: 'empty',
  },
  signs: { crank: 'Cranking', driving: 'Driving', step: 'Switching', asleep: 'Asleep' },
  days: 'days',
  titles: {
    sessionOverview: 'The whole log',
    parkedDraw: 'Draw while asleep, stand by stand',
    sleepTime: 'Settling after each key-off',
    wakeUps: 'Wakes by time of day',
    heldAwake: 'How long it stayed awake',
    circuitLink: 'Circuits and wakes',
    standTime: 'Charge left while standing',
    restingCharge: 'Rested voltage and state of charge',
    deepDischarge: 'Lowest voltage while parked',
    freezeRisk: 'Temperature and freezing point',
    crankVoltage: 'Voltage while cranking',
    batteryResistance: 'Internal resistance, crank by crank',
    charging: 'Voltage while driving',
    chargeBalance: 'Charge in and out, day by day',
    logCoverage: 'What the log covers',
    currentDirection: 'Signs for the direction of current',
  },
  voltage: 'Voltage, V',
  current: 'Current',
  currentNote: '↑ into the battery, ↓ out of it; each step is ten times the last',
  temperature: 'Temperature, °C',
  periodsTitle: 'What the vehicle did',
  limit: 'limit',
  notes: 'Notes',
  band: 'line: mean, band: lowest to highest',
  drawAsleep: 'line: mean draw asleep, box: its uncertainty',
  sinceKeyOff: 'Time since key-off',
  asleepAfter: (time) => `asleep after ${time}`,
  notAsleep: 'not asleep in the log',
  chargeLeft: 'Charge left, Ah',
  noStart: ['may not', 'start'],
  daysStanding: 'Days standing',
  soonest: (days) => `soonest ${days} days`,
  latest: (days) => `latest ${days} days`,
  sinceCrank: 'Time since the crank began, s',
  inrush: 'inrush, not judged',
  someOf: (shown, all) => `${shown} of ${all} cranks shown, the lowest among them`,
  lowest: 'lowest',
  resistance: 'Resistance, mΩ',
  resistanceNote: 'dot: one crank, bar: its uncertainty',
  parkedOnly: 'parked time alone, the lowest of each moment',
  freezeNote: 'blue: the battery; orange: where it would freeze at its charge, and what the charge leaves open',
  window: 'window for this battery',
  chargeAh: 'Charge, Ah',
  balanceNote: '↑ blue: in, ↓ orange: out; line: running sum',
  draw: 'Draw',
  drawAmps: 'Draw, A',
  cranksNote: 'one line for each crank; bold: the lowest',
  drivesNote: 'bar: 5 to 95 % of the drive, dot: median',
  standNote: 'between the lines: what draw, charge and self-discharge leave open',
  stateOfCharge: 'State of charge',
  restNote: 'dot: the rested voltage, bar: uncertainty; right: voltage at rest and 25 °C',
  wakesTitle: 'Wakes',
  wakesNote: 'pale: parked and asleep, orange: awake',
  patternsNote: 'pale: parked and asleep, orange: the dearest pattern of wakes, dark: other wakes',
  awakeFor: 'Awake for',
  awakeNote: 'circle: after key-off, triangle: after a wake',
  circuitsOn: 'Awake, and circuits on',
  linkNote: 'a few wakes from the middle of the log',
  sleepNote: 'one line for each key-off, a dot where it fell asleep; bold: the slowest',
  logged: 'logged',
  agree: 'as the manifest says',
  against: 'the other way',
};
