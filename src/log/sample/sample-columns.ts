/**
 * What the columns of an unknown log are likely to be, each with the reason, for a person to confirm. Where two columns
 * are as likely as each other, or nothing speaks for one, there is no proposal.
 */

import { FED_V } from '../../battery/fed-voltage.ts';
import { median } from '../../battery/statistics.ts';
import type { CurrentUnit, TemperatureUnit, VoltageUnit } from '../../manifest/session.ts';
import { unitInName, unitOf } from '../rows/unit-in-name.ts';

export interface SampleColumn {
  /** Header name, or the number from 1 on the left where there is none or it stands twice. */
  readonly name: string | number;
  /** Numbers in it; NaN where a cell is none. */
  readonly values: Float64Array;
  readonly cells: readonly string[];
  /** As the cells or a row of units below the names state it, in the log's own words; undefined where neither does. */
  readonly unit?: string;
  /** The same, where it stands in the cells. */
  readonly inCells?: string;
}

export interface ProposedColumn<Unit> {
  readonly name: string | number;
  /** Of a log with a row for each value: what its rows hold in which column, and the column of the value. */
  readonly where?: Readonly<Record<string, string>>;
  readonly value?: string | number;
  /** Null where neither name nor readings tell it. */
  readonly unit: Unit | null;
  /** For a person: why this column, and why this unit. */
  readonly reason: string;
}

/** In the units of the file. */
export interface Extremes {
  readonly highest: { readonly voltage: number; readonly current: number };
  readonly lowest: { readonly voltage: number; readonly current: number };
}

export interface Proposal {
  readonly voltage: ProposedColumn<VoltageUnit> | null;
  readonly current: ProposedColumn<CurrentUnit> | null;
  readonly temperature: ProposedColumn<TemperatureUnit> | null;
  /** At most four. */
  readonly channels: readonly ProposedColumn<VoltageUnit>[];
  /** What a positive current means, where the sample shows it. */
  readonly positive: { readonly value: 'charging' | 'discharging'; readonly reason: string } | null;
  /** What the current reads where the voltage is highest and lowest, for a person to tell its sign by. */
  readonly extremes: Extremes | null;
  readonly systemV: { readonly value: 6 | 12 | 24; readonly reason: string } | null;
  /** Why there is no proposal, by role. */
  readonly open: Readonly<Partial<Record<'time' | 'voltage' | 'current' | 'temperature', string>>>;
}

const ROLES = {
  // `U_Batt`, `VBat`, `U`; `IBat`, `I`: the letters of the quantities.
  voltage: { units: ['V', 'mV'], words: /volt|spannung|tension|potential|^[uv]([\s_\W]|bat|akku|accu|$)/i },
  current: {
    units: ['A', 'mA'],
    words: /curr|(?<!(?:^|[^c])l|st|[srd])amp|strom|courant|shunt|^i([\s_\W]|bat|akku|accu|$)/i,
  },
  temperature: { units: ['°C', '°F', 'K'], words: /temp/i },
} as const;
/**
 * What these words are of is no electric current, and the English for "at present" stands beside them: per-cent load at current speed,
 * current gear, spark advance (current).
 */
const NO_CURRENT =
  /percent|prozent|(^|[^a-z])pct|%|advance|(^|[^a-z])ve([^a-z]|$)|curr(ent)?[\s_.-]*(load|speed|rpm|gear|torque|fuel|power|time|date|position|angle|level|mode|state|status|temp|press|lap|limit|profile|consumption|ratio)/i;
const OF_BATTERY = /bat|akku|accu/i;
/** Rested, charged or low: where the terminals of a battery lie for most of any log, V. */
const TERMINAL_V = { 6: [5, 8], 12: [9, 16], 24: [18, 32] } as const;

/** @param columns without those of the time */
export function proposeColumns(columns: readonly SampleColumn[]): Proposal {
  const open: Record<string, string> = {};
  const best = (role: keyof typeof ROLES) => {
    const found = candidates(columns, role);
    const [first, second] = found;
    if (first && first.rank !== second?.rank) return first;
    open[role] = first
      ? `as likely as each other: ${found
          .filter(({ rank }) => rank === first.rank)
          .map(nameOf)
          .join(', ')}`
      : 'no column looks like it';
    return null;
  };
  const voltage = best('voltage') as Candidate<VoltageUnit> | null;
  const current = best('current') as Candidate<CurrentUnit> | null;
  const temperature = best('temperature') as Candidate<TemperatureUnit> | null;
  const others = voltage ? (candidates(columns, 'voltage') as Candidate<VoltageUnit>[]) : [];
  return {
    voltage,
    current,
    temperature,
    channels: others.filter(({ name }) => name !== voltage?.name).slice(0, 4),
    positive: voltage && current ? directionOf(voltage, current) : null,
    extremes: voltage && current ? extremesOf(voltage, current) : null,
    systemV: voltage && systemOf(voltage),
    open,
  };
}

interface Candidate<Unit> extends ProposedColumn<Unit> {
  readonly values: Float64Array;
  readonly rank: number;
}

export const nameOf = ({ name }: { name: string | number }) =>
  typeof name === 'number' ? `column ${name}` : `"${name}"`;

/** Most likely first. */
function candidates(columns: readonly SampleColumn[], role: keyof typeof ROLES): Candidate<string>[] {
  const { units, words } = ROLES[role];
  return columns
    .flatMap((column): Candidate<string>[] => {
      const { name, values } = column;
      const middle = median(values.filter((value) => !Number.isNaN(value)));
      if (Number.isNaN(middle)) return [];
      if (typeof name === 'number') return unnamed(column, role, middle);
      const said = unitOf(column.unit) ?? unitOf(name) ?? unitInName(name)?.unit;
      // `%`, `rpm`, `deg`: another quantity, whatever its name.
      if (column.unit !== undefined && !(units as readonly string[]).includes(unitOf(column.unit) ?? '')) return [];
      const isWord = words.test(name) && !(role === 'current' && NO_CURRENT.test(name));
      const named = said !== undefined && (units as readonly string[]).includes(said) ? said : undefined;
      // A letter at the end that is a unit of something else is none: `current_c` may be the third.
      if (named === undefined && (!isWord || (said !== undefined && unitInName(name)?.bracketed))) return [];
      const unit = named ?? unitByValue(role, middle) ?? null;
      if (unit === null && role === 'voltage') return [];
      const battery = OF_BATTERY.test(name);
      const plausible = role !== 'voltage' || isTerminal(middle, unit ?? 'V');
      const why = [
        named
          ? unitOf(column.unit) === named
            ? `${column.inCells ? 'its cells give' : 'the row of units gives'} ${named}`
            : `its name gives ${named}`
          : unit
            ? `its name, and readings near ${shortNumber(middle)}, which fit ${unit}`
            : `its name, which gives no unit; its readings lie near ${shortNumber(middle)}`,
        battery ? 'and names the battery' : '',
        plausible ? '' : `but its readings near ${shortNumber(middle)} are no battery's`,
      ];
      const rank = (plausible ? 4 : 0) + (battery ? 2 : 0) + (isWord ? 1 : 0);
      return [{ name, unit, values, rank, reason: why.filter(Boolean).join(' ') }];
    })
    .sort((a, b) => b.rank - a.rank);
}

/** A column without a name may be the battery's voltage; for anything else its readings say too little. */
function unnamed({ name, values }: SampleColumn, role: keyof typeof ROLES, middle: number): Candidate<string>[] {
  const unit = role === 'voltage' ? unitByValue(role, middle) : undefined;
  if (unit === undefined) return [];
  return [{ name, unit, values, rank: 4, reason: `its readings lie near ${shortNumber(middle)}, which fits ${unit}` }];
}

function unitByValue(role: keyof typeof ROLES, middle: number): string | undefined {
  if (role === 'voltage') return isTerminal(middle, 'V') ? 'V' : isTerminal(middle, 'mV') ? 'mV' : undefined;
  // 40 may be mA of a sleeping vehicle or A of its lamps, and 20 °C or °F: no reading tells.
  return undefined;
}

function isTerminal(reading: number, unit: string | null): boolean {
  const volts = unit === 'mV' ? reading / 1000 : reading;
  return Object.values(TERMINAL_V).some(([low, high]) => volts >= low && volts <= high);
}

function systemOf({ values, unit }: Candidate<VoltageUnit>): Proposal['systemV'] {
  const volts = median(values.filter((value) => !Number.isNaN(value))) / (unit === 'mV' ? 1000 : 1);
  const system = ([6, 12, 24] as const).find((v) => volts >= TERMINAL_V[v][0] && volts <= TERMINAL_V[v][1]);
  return system ? { value: system, reason: `the sample's voltage lies near ${shortNumber(volts)} V` } : null;
}

function extremesOf(
  { values: volts }: Candidate<VoltageUnit>,
  { values: amps }: Candidate<CurrentUnit>,
): Extremes | null {
  let [high, low] = [-1, -1];
  for (let k = 0; k < volts.length; k++) {
    if (Number.isNaN(volts[k]) || Number.isNaN(amps[k])) continue;
    if (high < 0 || volts[k] > volts[high]) high = k;
    if (low < 0 || volts[k] < volts[low]) low = k;
  }
  const at = (k: number) => ({ voltage: volts[k], current: amps[k] });
  return high < 0 || volts[high] === volts[low] ? null : { highest: at(high), lowest: at(low) };
}

/** A discharge of a starter's size pulls the voltage down; a current while the voltage is that of charging goes in. */
function directionOf(voltage: Candidate<VoltageUnit>, current: Candidate<CurrentUnit>): Proposal['positive'] {
  const perV = voltage.unit === 'mV' ? 1000 : 1;
  // Without a unit, what is looked for are rows that either unit shows.
  const perA = current.unit === 'A' ? 1 : 1000;
  const system = systemOf(voltage)?.value ?? 12;
  let [charging, discharging] = [0, 0];
  for (let k = 0; k < current.values.length; k++) {
    const volts = ((voltage.values[k] / perV) * 12) / system;
    const amperes = current.values[k] / perA;
    const into = volts < 11.8 && Math.abs(amperes) > 20 ? -1 : volts > FED_V && Math.abs(amperes) > 1 ? 1 : 0;
    if (into * amperes > 0) charging++;
    if (into * amperes < 0) discharging++;
  }
  const [most, least] = [Math.max(charging, discharging), Math.min(charging, discharging)];
  if (most < 3 || least > 0.05 * most) return null;
  const value = charging > discharging ? 'charging' : 'discharging';
  return { value, reason: `${most} of ${most + least} rows under heavy load or on charge show it` };
}

function shortNumber(value: number): string {
  return String(Number(value.toPrecision(3)));
}
