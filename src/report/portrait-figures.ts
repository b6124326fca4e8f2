/**
 * The portrait as a list of figures, one a row: for tables, and to hold a vehicle against others of its model. Names and units
 * are here, once.
 */
import type { Report } from './contract/report.ts';

type Portrait = NonNullable<Report['portrait']>;
interface Three {
  readonly p05: number | null;
  readonly p50: number | null;
  readonly p95: number | null;
}

export interface PortraitFigure {
  readonly figure: string;
  /** What it is of: a kind of period, a circuit, the number of a step, minutes, a date; null where there is one alone. */
  readonly of: string | null;
  readonly unit: 'A' | 'V' | 's' | 'min' | 'Ah' | '1' | 'count';
  /** Occurrences that it rests on; null where it is of time. */
  readonly n: number | null;
  readonly p05: number | null;
  readonly p50: number;
  readonly p95: number | null;
  /** Told by the model of vehicle, not by how it was used or by its weather: it can be held against others of its like. */
  readonly compares: boolean;
}

type About = Pick<PortraitFigure, 'figure' | 'unit'> & Partial<Pick<PortraitFigure, 'of' | 'n' | 'compares'>>;

/** Those that the log shows, in the order of the report. */
export function portraitFigures(portrait: Portrait): PortraitFigure[] {
  return [
    ...stateFigures(portrait),
    ...useFigures(portrait),
    ...topUpFigures(portrait),
    ...sleepFigures(portrait),
    ...circuitFigures(portrait),
    ...chargeFigures(portrait),
  ];
}

function row(about: About, value: Three | number | null): PortraitFigure[] {
  const { p05, p50, p95 } = typeof value === 'number' ? { p05: null, p50: value, p95: null } : (value ?? NOTHING);
  return p50 === null ? [] : [{ of: null, n: null, compares: false, ...about, p05, p50, p95 }];
}
const NOTHING = { p05: null, p50: null, p95: null };

function stateFigures({ states }: Portrait): PortraitFigure[] {
  return states.flatMap(({ kind, share, current_a, voltage_v }) => [
    ...row({ figure: 'state-share', of: kind, unit: '1' }, share),
    ...row({ figure: 'state-current', of: kind, unit: 'A', compares: kind === 'asleep' }, current_a),
    ...row({ figure: 'state-voltage', of: kind, unit: 'V' }, voltage_v),
  ]);
}

function useFigures({ key_cycles, drives, starts }: Portrait): PortraitFigure[] {
  return [
    ...row({ figure: 'key-cycles', unit: 'count' }, key_cycles.count),
    ...row({ figure: 'drives', unit: 'count' }, drives.count),
    ...row({ figure: 'drive-length', unit: 'min', n: drives.count }, drives.minutes),
    ...row({ figure: 'starts', unit: 'count' }, starts.count),
  ];
}

function topUpFigures({ top_ups: found }: Portrait): PortraitFigure[] {
  const about = { n: found.count, compares: true };
  return [
    ...row({ figure: 'top-ups', unit: 'count' }, found.count),
    ...row({ figure: 'top-up-period', unit: 's', ...about }, found.period_s),
    ...row({ figure: 'top-up-length', unit: 's', ...about }, found.seconds),
    ...row({ figure: 'top-up-charge', unit: 'Ah', ...about }, found.charge_ah),
    ...row({ figure: 'top-up-voltage', unit: 'V', ...about }, found.voltage_v),
    ...row({ figure: 'top-up-current', unit: 'A', ...about }, found.current_a),
    ...row({ figure: 'top-up-after', unit: 's', ...about }, found.after_s),
  ];
}

function sleepFigures({ settlings, shutdown }: Portrait): PortraitFigure[] {
  return [
    ...row({ figure: 'settling-length', unit: 's', n: settlings.count, compares: true }, settlings.seconds),
    ...shutdown.flatMap(({ count, level_range_a, seconds_range }, at) => {
      const about = { of: `${at + 1}/${shutdown.length}`, n: count, compares: true };
      return [
        ...row({ figure: 'shutdown-level', unit: 'A', ...about }, level_range_a),
        ...row({ figure: 'shutdown-length', unit: 's', ...about }, seconds_range),
      ];
    }),
  ];
}

function circuitFigures({ circuits }: Portrait): PortraitFigure[] {
  return circuits.flatMap((circuit) => {
    const of = circuit.channel;
    return [
      ...Object.entries(circuit.on_share).flatMap(([kind, share]) =>
        row({ figure: `circuit-on-${kind}`, of, unit: '1' }, share),
      ),
      ...row(
        { figure: 'circuit-off-after', of, unit: 's', n: circuit.off_seen, compares: true },
        circuit.off_after_key_off_s,
      ),
      ...row({ figure: 'circuit-on-after', of, unit: 's', n: circuit.on_seen }, circuit.on_after_key_on_s),
      ...row({ figure: 'circuit-voltage-on', of, unit: 'V' }, circuit.voltage_on_v),
      ...row({ figure: 'circuit-pulses', of, unit: 'count' }, circuit.pulses),
    ];
  });
}

function chargeFigures({ charging, charging_by_temperature, bursts, put_back, days }: Portrait): PortraitFigure[] {
  return [
    ...charging.flatMap(({ from_s, to_s, drives, voltage_v, current_a }) => {
      const of = `${from_s / 60}-${to_s === null ? '' : to_s / 60}`;
      return [
        ...row({ figure: 'charging-voltage', of, unit: 'V', n: drives, compares: true }, voltage_v),
        ...row({ figure: 'charging-current', of, unit: 'A', n: drives }, current_a),
      ];
    }),
    ...charging_by_temperature.flatMap(({ from_c, to_c, drives, voltage_v, current_a }) => {
      const of = `${from_c}..${to_c}`;
      return [
        ...row({ figure: 'charging-voltage-at-celsius', of, unit: 'V', n: drives }, voltage_v),
        ...row({ figure: 'charging-current-at-celsius', of, unit: 'A', n: drives }, current_a),
      ];
    }),
    ...burstFigures(bursts),
    ...put_back.flatMap(({ minutes, drives, charge_ah }) =>
      row({ figure: 'put-back', of: String(minutes), unit: 'Ah', n: drives }, charge_ah),
    ),
    ...days.flatMap(({ date: of, charge_in_ah, charge_out_ah, voltage_min_v, depth_ah }) => [
      ...row({ figure: 'day-charge-in', of, unit: 'Ah' }, charge_in_ah),
      ...row({ figure: 'day-charge-out', of, unit: 'Ah' }, charge_out_ah),
      ...row({ figure: 'day-lowest-voltage', of, unit: 'V' }, voltage_min_v),
      ...row({ figure: 'day-depth', of, unit: 'Ah' }, depth_ah),
    ]),
  ];
}

function burstFigures(bursts: Portrait['bursts']): PortraitFigure[] {
  if (!bursts) return [];
  const n = bursts.count;
  return [
    ...row({ figure: 'bursts', unit: 'count' }, n),
    ...row({ figure: 'burst-length', unit: 's', n }, bursts.seconds),
    ...row({ figure: 'burst-voltage', unit: 'V', n }, bursts.voltage_v),
    ...row({ figure: 'burst-current', unit: 'A', n }, bursts.current_a),
    ...row({ figure: 'burst-charge', unit: 'Ah', n }, bursts.charge_ah),
    ...row({ figure: 'burst-share', unit: '1', n }, bursts.share),
  ];
}
