/**
 * `report.json`, schema `standstill-report/1`: the product. Every page, table and archive entry is a rendering of it. What is
 * read again, also from earlier versions that lacked some keys, is `StoredReport` of the archive.
 */
import type { PeriodKind } from '../analysis/model.ts';
import type { Status } from '../checks/check.ts';
import type { FaultKind } from '../log/block.ts';

/** ISO 8601, UTC, `Z`, milliseconds. */
export type Iso = string;

export interface Report {
  readonly schema: 'standstill-report/1';
  readonly tool: { readonly name: 'standstill'; readonly version: string };
  /** BCP 47 tag of the prose in it. */
  readonly language: string;
  readonly session: ReportSession;
  readonly log: ReportLog;
  readonly periods: readonly {
    readonly kind: PeriodKind;
    readonly start: Iso;
    readonly end: Iso;
    readonly seconds: number;
    readonly charge_in_ah: number;
    readonly charge_out_ah: number;
  }[];
  readonly parked: readonly {
    readonly start: Iso;
    readonly end: Iso;
    readonly key_off_in_log: boolean;
    readonly time_to_sleep_s: number | null;
    readonly sleep_draw_a: number | null;
    /** Expanded, k = 2. */
    readonly sleep_draw_u_a: number | null;
    readonly mean_draw_a: number | null;
    readonly charge_out_ah: number;
    readonly wakes: number;
    readonly rest_voltage_v: number | null;
    readonly state_of_charge: number | null;
  }[];
  readonly wakes: readonly {
    readonly start: Iso;
    readonly seconds: number;
    readonly peak_a: number;
    readonly mean_a: number;
    readonly charge_ah: number;
    readonly channels: readonly string[];
  }[];
  readonly wake_patterns: readonly {
    readonly count: number;
    readonly period_s: number | null;
    readonly seconds: number;
    readonly mean_a: number;
    readonly charge_ah_per_day: number;
    readonly channel: string | null;
  }[];
  readonly cranks: readonly {
    readonly at: Iso;
    readonly seconds: number;
    readonly volts_before: number;
    readonly volts_min: number;
    readonly volts_cranking: number | null;
    readonly amps_peak: number | null;
    readonly resistance_ohm: number | null;
    readonly temperature_c: number | null;
  }[];
  readonly drives: readonly {
    readonly start: Iso;
    readonly end: Iso;
    readonly volts_median: number;
    readonly charge_in_ah: number;
    readonly charge_out_ah: number;
  }[];
  readonly links: readonly {
    readonly channel: string;
    readonly wakes_with: number;
    readonly wakes_seen: number;
    readonly charge_share: number;
    readonly chance: number;
    /** How long after a wake begins the channel turns on; negative where it leads. */
    readonly lag_s: number | null;
    /** The same for settlings after key-off that were slow; null where none was seen with the channel logged. */
    readonly settlings: {
      readonly slow_with: number;
      readonly slow_seen: number;
      /** Of the quick ones, which tell what the circuit does anyway. */
      readonly quick_with: number;
      readonly quick_seen: number;
      readonly charge_share: number;
      /** How long after sleep the channel turns off; negative where it leads. */
      readonly lag_s: number | null;
      readonly chance: number;
    } | null;
  }[];
  readonly totals: {
    readonly charge_in_ah: number;
    readonly charge_out_ah: number;
    readonly driving_s: number;
    readonly parked_s: number;
    readonly asleep_s: number;
    readonly awake_s: number;
  };
  readonly findings: readonly ReportFinding[];
  /** What the first page says, in the report's language. */
  readonly summary: {
    readonly answer: string;
    readonly found: readonly string[];
    readonly means: readonly string[];
    readonly suggest: readonly string[];
    readonly until_then: readonly string[];
    /** What the vehicle may not do yet, or what may not be concluded. */
    readonly not_yet: readonly string[];
  };
  /** Everything to do, in the trade's order: safety, confirm, isolate, repair, verify; `checks` says which ask for it. */
  readonly checklist: readonly { readonly stage: Stage; readonly text: string; readonly checks: readonly string[] }[];
  /** Texts of the cautions that the findings name. */
  readonly cautions: readonly {
    readonly id: string;
    readonly title: string;
    readonly text: string;
    readonly source: string | null;
  }[];
  /** How each figure was worked out: Markdown already rendered to HTML lives in the page, the plain text here. */
  readonly method: readonly { readonly title: string; readonly text: string }[];
}

/** The manifest as understood, in its own key names, SI in the key. Values that were not given are null or absent. */
export interface ReportSession {
  readonly id: string;
  readonly title: string;
  readonly purpose: string;
  readonly concern: string | null;
  readonly repair_order: string | null;
  readonly technician: string | null;
  readonly timezone: string;
  /** Of the report, as chosen. */
  readonly language: string;
  readonly vehicle: {
    readonly description: string;
    readonly registration: string | null;
    readonly vin: string | null;
    readonly odometer_km: number | null;
    readonly powertrain: string;
    readonly system_voltage_v: number;
  };
  readonly battery: {
    readonly chemistry: string;
    readonly capacity_ah: number | null;
    /** Where the manifest states no capacity: what `capacity_ah` is worked out from. */
    readonly capacity_from: 'reserve capacity' | null;
    readonly cold_cranking_a: number | null;
    readonly cranking_standard: string | null;
    readonly reserve_capacity_min: number | null;
    readonly fitted: string | null;
  };
  readonly limits: readonly {
    readonly key: string;
    readonly value: number;
    readonly unit: string;
    readonly source: string;
  }[];
  /** The healthy session that gave limits (null in a redacted report), and those that it could not give. */
  readonly limits_from: {
    readonly session: string | null;
    readonly left: readonly { readonly key: string; readonly reason: string }[];
  } | null;
  readonly install: {
    readonly fitted_at: Iso | null;
    readonly removed_at: Iso | null;
    readonly memory_saver: {
      readonly used: boolean;
      readonly voltage_before_v: number | null;
      readonly voltage_during_v: number | null;
    } | null;
    readonly clock_checked: boolean | null;
    readonly amp_hours_cleared: boolean | null;
    /** As read off when the vehicle was left. */
    readonly draw_at_start_a: number | null;
    readonly current_sensor_place: string | null;
  };
  readonly columns: readonly {
    readonly role: string;
    readonly name: string;
    readonly unit: string;
    readonly accuracy: string | null;
  }[];
  readonly notes: readonly { readonly at: Iso; readonly text: string }[];
  readonly photos: readonly string[];
  /** The same photos, when each was taken, by whose clock, and what it shows. */
  readonly photos_taken: readonly {
    readonly file: string;
    readonly at: Iso | null;
    readonly time_from: 'manifest' | 'camera' | null;
    readonly text: string | null;
  }[];
  /** True where whose vehicle it is, and what people wrote of it, was left out. */
  readonly redacted: boolean;
}

export interface ReportLog {
  readonly files: readonly {
    readonly name: string;
    readonly bytes: number;
    readonly sha256: string;
    readonly rows: number;
  }[];
  readonly rows: number;
  readonly rows_rejected: number;
  readonly start: Iso;
  readonly end: Iso;
  readonly covered_s: number;
  readonly missing_s: number;
  readonly median_step_s: number;
  readonly faults: readonly {
    readonly kind: FaultKind;
    readonly at: Iso | null;
    readonly count: number;
    readonly seconds: number;
    readonly file: string | null;
    readonly line: number | null;
    readonly found: string | null;
  }[];
  readonly understood: readonly { readonly what: string; readonly how: string }[];
}

/** What a next step is for; the order is the trade's. */
export type Stage = 'safety' | 'confirm' | 'isolate' | 'repair' | 'verify';

export interface ReportFinding {
  readonly check: string;
  /** The check's name and its question, in the report's language. */
  readonly name: string;
  readonly question: string;
  readonly status: Status;
  readonly title: string;
  readonly plain: string;
  readonly detail: string;
  readonly measured: {
    readonly value: number;
    readonly unit: string;
    readonly uncertainty: number | null;
    readonly coverage: number;
  } | null;
  readonly limit: { readonly value: number; readonly unit: string; readonly source: string } | null;
  readonly reason: string | null;
  /** The reason's key, the same in every language. */
  readonly reason_key: string | null;
  readonly evidence: readonly { readonly chart: string; readonly from: Iso; readonly to: Iso }[];
  readonly cautions: readonly string[];
  readonly next_steps: readonly string[];
  readonly follows: string | null;
}
