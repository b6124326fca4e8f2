/**
 * The manifest as understood: quantities in SI (or the unit in the name), local times resolved to UTC.
 * `session.yaml` is read into this shape by `readSession`.
 */
import type { Chemistry, SystemVoltage } from '../battery/chemistry.ts';
import type { Accuracy } from '../battery/uncertainty.ts';

export type Purpose = 'baseline' | 'complaint' | 'after-repair';
export type Powertrain = 'combustion' | 'hybrid' | 'electric';
export type CrankingStandard = 'EN' | 'SAE' | 'IEC' | 'DIN';

export interface Session {
  /** Absolute path of the session folder. */
  readonly folder: string;
  readonly id: string;
  readonly title: string;
  readonly purpose: Purpose;
  readonly concern?: string;
  readonly repairOrder?: string;
  readonly technician?: string;
  /** IANA name. */
  readonly timezone: string;
  /** Folder of `content/` that the report is written from, and where the manifest says so. */
  readonly language?: string;
  readonly languageAt?: { readonly line: number; readonly column: number };
  readonly vehicle: Vehicle;
  readonly battery: Battery;
  readonly log: LogSettings;
  readonly limits: Limits;
  /** The healthy session of the same model whose values become limits where this one names none. */
  readonly limitsFrom?: LimitsFrom;
  readonly install: Install;
  readonly notes: readonly Note[];
  readonly photos: readonly Photo[];
  /** What the workshop says of it in its own words. */
  readonly assessment?: Assessment;
  /** True where whose vehicle it is, and what people wrote of it, was left out. */
  readonly redacted?: boolean;
}

export interface Vehicle {
  readonly description: string;
  /** What vehicles alike are called by. */
  readonly model?: string;
  readonly registration?: string;
  readonly vin?: string;
  readonly odometerKm?: number;
  readonly powertrain: Powertrain;
  readonly systemV: SystemVoltage;
}

export interface Battery {
  readonly chemistry: Chemistry;
  /** 20-hour rating; where only a reserve capacity is stated, what that is likely to stand for, and said to be so. */
  readonly capacityAh?: number;
  readonly capacityFrom?: 'reserve capacity';
  readonly coldCrankingA?: number;
  readonly crankingStandard?: CrankingStandard;
  readonly reserveCapacityMin?: number;
  /** `YYYY-MM` or `YYYY-MM-DD`. */
  readonly fitted?: string;
}

export type TimeFormat =
  | 'iso'
  | 'epoch-s'
  | 'epoch-ms'
  | 'epoch-us'
  | 'elapsed-s'
  | 'elapsed-ms'
  | { readonly pattern: string };
export type VoltageUnit = 'V' | 'mV';
export type CurrentUnit = 'A' | 'mA';
export type TemperatureUnit = '°C' | '°F' | 'K';

/** A column is found by its header name, or by its number (1-based) where the log has no header row. */
export interface ColumnRef {
  /** Of a long log: what its rows are of, for people. */
  readonly name: string | number;
  /** Of a long log, which has a row for each value: cells by column that a row of this quantity has, and the column of its value. */
  readonly where?: Readonly<Record<string, string>>;
  readonly value?: string | number;
  /** Where the manifest says it, so that a wrong name can be told with its line. */
  readonly at?: { readonly line: number; readonly column: number };
}

export interface LogSettings {
  /** Patterns or names as written, relative to the session folder. */
  readonly files: readonly string[];
  /** Where the manifest says each of them. */
  readonly filesAt?: readonly { readonly line: number; readonly column: number }[];
  /** Undefined: found from the file. A space stands for any run of spaces. */
  readonly delimiter?: string;
  readonly decimal?: '.' | ',';
  readonly skipRows: number;
  /** UTC, ms since the epoch; only for elapsed time. */
  readonly startMs?: number;
  /** From row to row, where the log has no column of times; `startMs` is then known too. */
  readonly stepS?: number;
  /** Of a long log: how long a value stands while no other comes, s. */
  readonly holdS?: number;
  readonly columns: {
    /** Undefined where `stepS` is given. */
    readonly time?: ColumnRef & {
      readonly format?: TimeFormat /** Second column that holds the time of day. */;
      readonly clock?: string | number;
    };
    readonly voltage: ColumnRef & { readonly unit: VoltageUnit; readonly accuracy?: Accuracy };
    readonly current?: ColumnRef & {
      readonly unit: CurrentUnit;
      /** Which direction the log writes as positive. */
      readonly positive: 'charging' | 'discharging';
      readonly accuracy?: Accuracy;
      readonly rangeA?: number;
    };
    readonly temperature?: ColumnRef & { readonly unit: TemperatureUnit; readonly accuracy?: Accuracy };
  };
  /** Up to four. */
  readonly channels: readonly Channel[];
}

export interface Channel extends ColumnRef {
  readonly label: string;
  readonly unit: VoltageUnit;
  /** The circuit counts as active above this (V), or below `activeBelowV`. */
  readonly activeAboveV?: number;
  readonly activeBelowV?: number;
  /** `drop`: the channel is set across a cable or ground, and its reading is the voltage lost there. */
  readonly measures: 'supply' | 'drop';
}

/** A limit that stands in place of a check's default. Values in SI (A, s, V, 0 to 1, days as s). */
export interface LimitSetting {
  readonly value: number;
  /** Where the figure is from: in the technician's words, or which session's value it is. */
  readonly source: string;
  /** Of a voltage while cranking: `value` holds at 21 °C and more, and falls with the cold as the load-test minimum does. */
  readonly fallsWithCold?: boolean;
}

export interface LimitsFrom {
  /** Of a session in the archive. */
  readonly id: string;
  /** Further ones, where several are named. */
  readonly more?: readonly string[];
  /** Where the manifest says it. */
  readonly at: { readonly line: number; readonly column: number };
  /** Limits that it does not give, each with the reason in words; set by who has read it. */
  readonly left?: { readonly [key in LimitKey]?: string };
}

/** Keys are the names that checks declare for their limits; see `LIMIT_KEYS`. */
export type Limits = { readonly [key in LimitKey]?: LimitSetting };

/**
 * What `limits:` in a manifest may hold: camel-cased manifest key, side of the limit, unit of the value here.
 * In the manifest: `parked_draw: {max: 50 mA, source: …}`, or just the quantity.
 */
export const LIMIT_KEYS = {
  parkedDraw: { side: 'max', unit: 'A' },
  sleepWithin: { side: 'max', unit: 's' },
  standTime: { side: 'min', unit: 's' },
  restingCharge: { side: 'min', unit: '1' },
  crankingVoltage: { side: 'min', unit: 'V' },
  chargingVoltageMin: { side: 'min', unit: 'V' },
  chargingVoltageMax: { side: 'max', unit: 'V' },
} as const satisfies Record<string, { side: 'min' | 'max'; unit: 'A' | 's' | 'V' | '1' }>;
export type LimitKey = keyof typeof LIMIT_KEYS;

export interface Install {
  readonly fittedAtMs?: number;
  readonly removedAtMs?: number;
  readonly memorySaver?: { readonly used: boolean; readonly voltageBeforeV?: number; readonly voltageDuringV?: number };
  readonly clockChecked?: boolean;
  readonly ampHoursCleared?: boolean;
  /** Draw that the logger's display showed at the end of fitting, positive out of the battery. */
  readonly drawAtStartA?: number;
  readonly currentSensorPlace?: string;
}

export interface Assessment {
  readonly text?: string;
  readonly done: readonly string[];
  /** Effort and price as the shop words them. */
  readonly offers: readonly { readonly work: string; readonly effort?: string; readonly price?: string }[];
}

export interface Note {
  readonly atMs: number;
  readonly text: string;
}

export interface Photo {
  /** Path relative to the session folder, `/` as separator, proven to lie inside it. */
  readonly file: string;
  /** UTC, ms since the epoch. */
  readonly atMs?: number;
  /** Where the time is from. */
  readonly atFrom?: 'manifest' | 'camera';
  readonly text?: string;
}
