/** The portrait in the report's own key names. */
import type { Analysis } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';
import { bursts } from '../measures/portrait/bursts.ts';
import { charging } from '../measures/portrait/charging.ts';
import { circuits } from '../measures/portrait/circuits.ts';
import { cycles } from '../measures/portrait/cycles.ts';
import { days } from '../measures/portrait/days.ts';
import type { Spread } from '../measures/portrait/distribution.ts';
import { shutdown } from '../measures/portrait/shutdown.ts';
import { portraitStates } from '../measures/portrait/states.ts';
import { chargingByTemperature } from '../measures/portrait/temperature.ts';
import { topUps } from '../measures/portrait/top-ups.ts';
import { unlikeStands } from '../measures/portrait/unlike.ts';
import { levelU } from '../measures/sensor.ts';
import type { Report } from './contract/report.ts';
import { iso, seconds, six, sixOrNull } from './report-session.ts';

type Portrait = NonNullable<Report['portrait']>;

const DAY_MS = 86_400_000;
const NONE = { p05: null, p50: null, p95: null };

const spread = ({ p05, p50, p95 }: Spread) => ({ p05: six(p05), p50: six(p50), p95: six(p95) });
const spreadOrNull = (found: Spread | null) => (found ? spread(found) : null);
const seen = (found: Spread | null | undefined) => (found ? spread(found) : NONE);

export function reportPortrait(analysis: Analysis, session: Session): Portrait {
  const use = cycles(analysis, session);
  const way = shutdown(analysis, session);
  const drives = charging(analysis, session);
  return {
    states: states(analysis, session),
    key_cycles: {
      count: use.keyCycles.length,
      with_drive: use.keyCycles.filter((cycle) => cycle.drives).length,
    },
    drives: { count: use.drives, minutes: seen(use.driveMinutes) },
    starts: { count: use.starts, restarts: use.restarts },
    top_ups: toppedUp(analysis, session),
    settlings: { count: way.settlings, seconds: seen(way.seconds) },
    shutdown: way.steps.map((step) => ({
      level_a: six(step.levelA.p50),
      seconds: seconds(step.seconds.p50),
      level_range_a: spread(step.levelA),
      seconds_range: spread(step.seconds),
      count: step.count,
    })),
    circuits: circuits(analysis, session).map((circuit) => ({
      channel: circuit.channel,
      on_share: Object.fromEntries(Object.entries(circuit.onShare).map(([kind, share]) => [kind, six(share)])),
      off_after_key_off_s: spreadOrNull(circuit.offAfterS),
      off_seen: circuit.offSeen,
      on_after_key_on_s: spreadOrNull(circuit.onAfterS),
      on_seen: circuit.onSeen,
      voltage_on_v: spreadOrNull(circuit.voltsOn),
      voltage_off_v: spreadOrNull(circuit.voltsOff),
      pulses: circuit.pulses,
      pulse_s: seen(circuit.pulseS),
    })),
    days: days(analysis, session).map((day) => ({
      date: new Date(day.day * DAY_MS).toISOString().slice(0, 10),
      charge_in_ah: six(day.chargeInAh),
      charge_out_ah: six(day.chargeOutAh),
      charger_ah: six(day.chargerAh),
      driving_s: seconds(day.drivingS),
      voltage_min_v: sixOrNull(day.voltsMin),
      depth_ah: sixOrNull(day.depthAh),
      temperature_min_c: sixOrNull(day.temperature?.min ?? null),
      temperature_max_c: sixOrNull(day.temperature?.max ?? null),
    })),
    charging: drives.parts.map((part) => ({
      from_s: part.fromS,
      to_s: part.toS,
      drives: part.drives,
      voltage_v: spread(part.volts),
      current_a: spreadOrNull(part.amps),
    })),
    charging_by_temperature: chargingByTemperature(analysis, session).map((part) => ({
      from_c: part.fromC,
      to_c: part.toC,
      seconds: seconds(part.seconds),
      drives: part.drives,
      voltage_v: spread(part.volts),
      current_a: spreadOrNull(part.amps),
    })),
    bursts: inBursts(analysis, session),
    put_back: drives.putBack.map((one) => ({
      minutes: one.minutes,
      drives: one.drives,
      charge_ah: spread(one.chargeAh),
    })),
    unusual: unlikeStands(analysis, session).map((one) => ({
      figure: one.figure,
      start: iso(analysis.stands[one.stand]?.start ?? analysis.start),
      value: six(one.value),
      usual: spread(one.usual),
      others: one.others,
    })),
  };
}

function states(analysis: Analysis, session: Session): Portrait['states'] {
  return portraitStates(analysis, session).flatMap(({ kind, seconds: lasted, share, current, voltage }) => {
    const [amps, volts] = [current?.spread() ?? null, voltage.spread()];
    if (kind === 'top-up' || !volts) return [];
    return [
      {
        kind,
        seconds: seconds(lasted),
        share: six(share),
        current_a: spreadOrNull(amps),
        voltage_v: spread(volts),
        current_u_a: amps && six(levelU(amps.p50, 'current', analysis, session)),
        voltage_u_v: six(levelU(volts.p50, 'voltage', analysis, session)),
      },
    ];
  });
}

function toppedUp(analysis: Analysis, session: Session): Portrait['top_ups'] {
  const found = topUps(analysis, session);
  const state = portraitStates(analysis, session).find(({ kind }) => kind === 'top-up');
  return {
    count: found.all.length,
    period_s: found.periodS === null ? null : seconds(found.periodS),
    seconds: seen(found.seconds),
    charge_ah: seen(found.chargeAh),
    voltage_v: seen(found.volts),
    current_a: seen(found.amps),
    end_current_a: seen(found.endAmps),
    after_s: seen(found.afterS),
    ended_by_key_on: found.all.filter((one) => one.endedByKeyOn).length,
    share: six(state?.share ?? 0),
    while_current_a: seen(state?.current?.spread()),
    while_voltage_v: seen(state?.voltage.spread()),
  };
}

function inBursts(analysis: Analysis, session: Session): Portrait['bursts'] {
  const found = bursts(analysis, session);
  if (!found) return null;
  return {
    count: found.all.length,
    per_hour: six(found.perHour),
    seconds: spread(found.seconds),
    voltage_v: spread(found.volts),
    current_a: spread(found.amps),
    charge_ah: spread(found.chargeAh),
    between_voltage_v: six(found.betweenV),
    between_current_a: six(found.betweenA),
    share: six(found.share),
  };
}
