/** What happened, for the report: periods, stands, wakes, cranks, drives, links and totals. */
import type { Analysis, Crank, Drive, Period, Stand, VehicleEvent, Wake } from '../analysis/model.ts';
import { there } from '../base/there.ts';
import type { Session } from '../manifest/session.ts';
import { accountU } from '../measures/account/account-u.ts';
import { heldU } from '../measures/account/held-u.ts';
import { type StandAccount, standAccounts } from '../measures/account/stand-account.ts';
import { circuitLinks, type Link } from '../measures/circuits/links.ts';
import { chargeOfRest } from '../measures/rested-charge.ts';
import { expandedU } from '../measures/sensor.ts';
import { betweenEdges } from '../measures/stands.ts';
import { type WakePattern, wakePatterns } from '../measures/wakes/patterns.ts';
import type { Report } from './contract/report.ts';
import { iso, seconds, six, sixOrNull } from './report-session.ts';

type Lists = 'periods' | 'parked' | 'wakes' | 'wake_patterns' | 'cranks' | 'events' | 'drives' | 'links';
type Entry<K extends Lists> = NonNullable<Report[K]>[number];

export function reportEvents(analysis: Analysis, session: Session): Pick<Report, Lists | 'totals'> {
  const accounts = standAccounts(analysis, session);
  return {
    periods: analysis.periods.map(periodOf),
    parked: analysis.stands.map((stand, at) => parkedOf(stand, there(accounts[at]), analysis, session)),
    wakes: analysis.wakes.map(wakeOf),
    wake_patterns: wakePatterns(analysis, session).map(patternOf),
    cranks: analysis.cranks.map(crankOf),
    events: analysis.events.map(eventOf),
    drives: analysis.drives.map(driveOf),
    links: circuitLinks(analysis, session).map(linkOf),
    totals: totalsOf(analysis),
  };
}

function periodOf(period: Period): Entry<'periods'> {
  return {
    kind: period.kind,
    start: iso(period.start),
    end: iso(period.end),
    seconds: seconds(period.end - period.start),
    charge_in_ah: six(period.chargeInAh),
    charge_out_ah: six(period.chargeOutAh),
    evidence: [...period.evidence],
    certainty: Math.round(period.certainty * 1000) / 1000,
  };
}

function parkedOf(stand: Stand, account: StandAccount, analysis: Analysis, session: Session): Entry<'parked'> {
  return {
    start: iso(stand.start),
    end: iso(stand.end),
    key_off_in_log: stand.keyOffInLog,
    time_to_sleep_s: stand.timeToSleepS === null ? null : seconds(stand.timeToSleepS),
    time_to_sleep_u_s: stand.timeToSleepS === null ? null : seconds(expandedU(betweenEdges(analysis))),
    sleep_draw_a: sixOrNull(stand.sleepDrawA?.value),
    sleep_draw_u_a: sixOrNull(stand.sleepDrawA && expandedU(stand.sleepDrawA)),
    mean_draw_a: sixOrNull(stand.meanDrawA?.value),
    mean_draw_u_a: sixOrNull(stand.meanDrawA && expandedU(stand.meanDrawA)),
    charge_out_ah: six(stand.chargeOutAh),
    charge_out_u_ah: analysis.has.current ? six(expandedU(stand.chargeOutU)) : null,
    wakes: stand.wakes,
    rest_voltage_v: sixOrNull(stand.rest?.volts.value),
    rest_voltage_u_v: sixOrNull(stand.rest && expandedU(stand.rest.volts)),
    ...chargeAtRest(stand, session),
    ...accountOf(account, stand, analysis, session),
  };
}

/** State of charge, 0 to 1, that the stand's best rest shows; null where the battery did not rest long enough to tell. */
function chargeAtRest(
  { rest }: Stand,
  session: Session,
): Pick<Entry<'parked'>, 'state_of_charge' | 'state_of_charge_u'> {
  const charge = rest && chargeOfRest(rest, session);
  return { state_of_charge: sixOrNull(charge?.value), state_of_charge_u: sixOrNull(charge?.U) };
}

/** Where the charge of a stand went, and the loads that stayed in it. */
function accountOf(
  account: StandAccount,
  stand: Stand,
  analysis: Analysis,
  session: Session,
): Pick<Entry<'parked'>, 'account' | 'held'> {
  const of = accountU(account, stand, analysis, session);
  const u = (part: keyof typeof of) => (analysis.has.current ? six(expandedU(of[part])) : null);
  return {
    account: {
      settling_ah: six(account.settlingAh),
      settling_u_ah: u('settling'),
      asleep_ah: six(account.asleepAh),
      asleep_u_ah: u('asleep'),
      wakes_ah: six(account.wakesAh),
      wakes_u_ah: u('wakes'),
      held_ah: six(account.heldAh),
      held_u_ah: u('held'),
      fed_ah: six(account.fedAh),
      fed_u_ah: u('fed'),
      unknown_ah: six(account.unknownAh),
      unknown_u_ah: u('unknown'),
    },
    held: account.held.map((load) => {
      const { meanA, chargeAh } = heldU(load, analysis, session);
      return {
        start: iso(load.start),
        end: iso(load.end),
        mean_a: six(load.meanA),
        mean_u_a: six(expandedU(meanA)),
        charge_ah: six(load.chargeAh),
        charge_u_ah: six(expandedU(chargeAh)),
      };
    }),
  };
}

function wakeOf(wake: Wake): Entry<'wakes'> {
  return {
    start: iso(wake.start),
    seconds: seconds(wake.seconds),
    peak_a: six(wake.peakA),
    mean_a: six(wake.meanA),
    charge_ah: six(wake.chargeAh),
    channels: [...wake.channels],
  };
}

function patternOf(pattern: WakePattern): Entry<'wake_patterns'> {
  return {
    count: pattern.count,
    period_s: pattern.periodS === null ? null : seconds(pattern.periodS),
    seconds: seconds(pattern.seconds),
    mean_a: six(pattern.meanA),
    charge_ah_per_day: six(pattern.chargeAhPerDay),
    channel: pattern.channel,
  };
}

function crankOf(crank: Crank): Entry<'cranks'> {
  return {
    at: iso(crank.at),
    seconds: seconds(crank.seconds),
    volts_before: six(crank.voltsBefore),
    volts_min: six(crank.voltsMin),
    volts_cranking: sixOrNull(crank.voltsCranking?.value),
    volts_cranking_u_v: sixOrNull(crank.voltsCranking && expandedU(crank.voltsCranking)),
    amps_peak: sixOrNull(crank.ampsPeak),
    resistance_ohm: sixOrNull(crank.resistanceOhm?.value),
    resistance_u_ohm: sixOrNull(crank.resistanceOhm && expandedU(crank.resistanceOhm)),
    temperature_c: sixOrNull(crank.temperatureC),
  };
}

function eventOf(event: VehicleEvent): Entry<'events'> {
  return {
    kind: event.kind,
    start: iso(event.start),
    seconds: seconds(event.seconds),
    mean_a: sixOrNull(event.meanA),
    volts_min: six(event.voltsMin),
  };
}

function driveOf(drive: Drive): Entry<'drives'> {
  return {
    start: iso(drive.start),
    end: iso(drive.end),
    volts_median: six(drive.voltsMedian),
    charge_in_ah: six(drive.chargeInAh),
    charge_out_ah: six(drive.chargeOutAh),
  };
}

function linkOf(link: Link): Entry<'links'> {
  return {
    channel: link.channel,
    wakes_with: link.wakesWith,
    wakes_seen: link.wakesSeen,
    charge_share: six(link.chargeShare),
    chance: six(link.chance),
    lag_s: sixOrNull(link.lagS),
    settlings: link.settlings
      ? {
          slow_with: link.settlings.slowWith,
          slow_seen: link.settlings.slowSeen,
          quick_with: link.settlings.quickWith,
          quick_seen: link.settlings.quickSeen,
          charge_share: six(link.settlings.chargeShare),
          lag_s: sixOrNull(link.settlings.lagS),
          chance: six(link.settlings.chance),
        }
      : null,
  };
}

function totalsOf({ totals, has }: Analysis): Report['totals'] {
  return {
    charge_in_ah: six(totals.chargeInAh),
    charge_out_ah: six(totals.chargeOutAh),
    charge_in_u_ah: has.current ? six(expandedU(totals.chargeInU)) : null,
    charge_out_u_ah: has.current ? six(expandedU(totals.chargeOutU)) : null,
    driving_s: seconds(totals.drivingS),
    parked_s: seconds(totals.parkedS),
    asleep_s: seconds(totals.asleepS),
    awake_s: seconds(totals.awakeS),
  };
}
