/** The part of an analysis, or of a report.json, that is held against the truth. Times in s since the epoch. */
import type { Analysis } from '../../src/analysis/model.ts';
import type { Report } from '../../src/report/contract/report.ts';

export interface Observed {
  readonly parked: readonly {
    readonly start: number;
    readonly end: number;
    readonly keyOffInLog: boolean;
    readonly timeToSleepS: number | null;
    readonly sleepDrawA: number | null;
  }[];
  readonly wakes: readonly { readonly start: number; readonly seconds: number; readonly chargeAh: number }[];
  readonly cranks: readonly { readonly at: number; readonly voltsCranking: number | null }[];
  readonly drives: readonly { readonly start: number; readonly end: number }[];
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
}

export function fromAnalysis(analysis: Analysis): Observed {
  return {
    parked: analysis.stands.map((p) => ({ ...p, sleepDrawA: p.sleepDrawA?.value ?? null })),
    wakes: analysis.wakes,
    cranks: analysis.cranks.map((c) => ({ at: c.at, voltsCranking: c.voltsCranking?.value ?? null })),
    drives: analysis.drives,
    chargeInAh: analysis.totals.chargeInAh,
    chargeOutAh: analysis.totals.chargeOutAh,
  };
}

export function fromReport(report: Report): Observed {
  const time = (iso: string) => Date.parse(iso) / 1000;
  return {
    parked: report.parked.map((p) => ({
      start: time(p.start),
      end: time(p.end),
      keyOffInLog: p.key_off_in_log,
      timeToSleepS: p.time_to_sleep_s,
      sleepDrawA: p.sleep_draw_a,
    })),
    wakes: report.wakes.map((w) => ({ start: time(w.start), seconds: w.seconds, chargeAh: w.charge_ah })),
    cranks: report.cranks.map((c) => ({ at: time(c.at), voltsCranking: c.volts_cranking })),
    drives: report.drives.map((d) => ({ start: time(d.start), end: time(d.end) })),
    chargeInAh: report.totals.charge_in_ah,
    chargeOutAh: report.totals.charge_out_ah,
  };
}
