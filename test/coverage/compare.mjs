// Each value of a report that has an uncertainty, beside what truly was: [name, value, U, truth].

import { chargeToNoStartAh } from '../../.build/battery/capacity.js';
import { selfLossPerDay } from '../../.build/demo/battery-model.js';

const time = (iso) => Date.parse(iso) / 1000;
/** Nearer than this it is the same stand, s. */
const SAME_S = 150;

/** Net charge into the battery over time, Ah, kept once a second while a simulation runs. */
export function makeMeter() {
  const times = [0];
  const sums = [0];
  let netAs = 0;
  return {
    watch({ from, dt, i }) {
      netAs += i * dt;
      if (from + dt - times.at(-1) >= 1) {
        times.push(from + dt);
        sums.push(netAs / 3600);
      }
    },
    /** Between two moments, s from the start of the log. */
    between(a, b) {
      const upTo = (t) => {
        let [low, high] = [0, times.length - 1];
        while (high - low > 1) {
          const middle = (low + high) >> 1;
          if (times[middle] <= t) low = middle;
          else high = middle;
        }
        const share = Math.min(1, Math.max(0, (t - times[low]) / (times[high] - times[low] || 1)));
        return sums[low] + share * (sums[high] - sums[low]);
      };
      return upTo(b) - upTo(a);
    },
  };
}

export function compared(report, truth, scenario, meter) {
  const rows = [];
  const add = (name, value, U, truly) => {
    if (value !== null && value !== undefined && truly !== null && Number.isFinite(truly))
      rows.push([name, value, U, truly]);
  };
  const stands = truth.parked.flatMap((truly) => {
    const found = report.parked.find(
      ({ start, end }) => Math.abs(time(start) - truly.start) < SAME_S && Math.abs(time(end) - truly.end) < SAME_S,
    );
    return found ? [{ truly, found }] : [];
  });
  for (const { truly, found } of stands) {
    add('sleep draw, A', found.sleep_draw_a, found.sleep_draw_u_a, truly.sleepDrawA);
    add('mean draw, A', found.mean_draw_a, found.mean_draw_u_a, truly.meanDrawA);
    add('charge out of a stand, Ah', found.charge_out_ah, found.charge_out_u_ah, truly.chargeOutAh);
    add('rested voltage, V', found.rest_voltage_v, found.rest_voltage_u_v, truly.restedV);
    add('time to sleep, s', found.time_to_sleep_s, found.time_to_sleep_u_s, truly.timeToSleepS);
    add('state of charge', found.state_of_charge, found.state_of_charge_u, truly.charge.end);
    addAccount(add, found, truly, truth);
    const at = truth.drives.findIndex(({ end }) => Math.abs(end - truly.start) < SAME_S);
    const held = at < 0 ? undefined : scenario.drives[at].held;
    const load = held && found.held.length === 1 ? found.held[0] : undefined;
    if (held && load && truly.end - truly.start > held.seconds + 3600) {
      add('load that stays, A', load.mean_a, load.mean_u_a, held.amps);
      add('load that stays, Ah', load.charge_ah, load.charge_u_ah, (held.amps * held.seconds) / 3600);
    }
  }
  for (const truly of truth.cranks) {
    const found = report.cranks.find(({ at }) => Math.abs(time(at) - truly.at) < 3);
    if (!found) continue;
    add('crank voltage, V', found.volts_cranking, found.volts_cranking_u_v, truly.voltsCranking);
    add('resistance, Ω', found.resistance_ohm, found.resistance_u_ohm, truly.resistanceOhm);
  }
  add('charge in, Ah', report.totals.charge_in_ah, report.totals.charge_in_u_ah, truth.totals.chargeInAh);
  add('charge out, Ah', report.totals.charge_out_ah, report.totals.charge_out_u_ah, truth.totals.chargeOutAh);

  const finding = (name) => report.findings.find(({ check }) => check === name)?.measured;
  const keyOffs = truth.parked.filter(({ keyOffInLog }) => keyOffInLog).map(({ start }) => start - scenario.start);
  const balance = finding('charge-balance');
  if (balance && stands.length === truth.parked.length)
    add('charge balance, Ah', balance.value, balance.uncertainty, meter.between(keyOffs[0], keyOffs.at(-1)));
  if (stands.length === truth.parked.length) {
    const asleepS = truth.parked.reduce((sum, { asleepS }) => sum + asleepS, 0);
    const meanA = truth.parked.reduce((sum, { sleepDrawA, asleepS }) => sum + (sleepDrawA ?? 0) * asleepS, 0) / asleepS;
    const draw = finding('parked-draw');
    if (draw) add('parked draw judged, A', draw.value, draw.uncertainty, meanA);
    const stand = finding('stand-time');
    const last = stands.findLast(({ found }) => found.state_of_charge !== null);
    if (stand && last)
      add('stand time, s', stand.value, stand.uncertainty, daysOf(truth, scenario, meanA, last.truly) * 86_400);
  }
  return rows;
}

/** The parts of a stand's charge. Without a load that stays all of them are plain in the truth; with one, the wakes are. */
function addAccount(add, { account, held }, truly, { periods }) {
  const inside = periods.filter(({ start, end }) => start >= truly.start - 1 && end <= truly.end + 1);
  const of = (name) => inside.filter(({ kind }) => kind === name);
  const outAh = (name) => of(name).reduce((sum, { chargeOutAh }) => sum + chargeOutAh, 0);
  const belowAh = (of('awake').reduce((sum, { start, end }) => sum + end - start, 0) * (truly.sleepDrawA ?? 0)) / 3600;
  if (of('awake').length > 1) add('part of wakes, Ah', account.wakes_ah, account.wakes_u_ah, outAh('awake') - belowAh);
  if (held.length > 0) return;
  add('part asleep, Ah', account.asleep_ah, account.asleep_u_ah, outAh('asleep') + belowAh);
  if (truly.keyOffInLog) add('part while settling, Ah', account.settling_ah, account.settling_u_ah, outAh('settling'));
}

/** Days by the middle of the trade's rule, from the true charge, the true draw asleep with the wakes, and what the battery truly loses. */
function daysOf(truth, { battery, climate }, sleepA, { charge, asleepC }) {
  const { capacityAh, chemistry } = battery;
  const wakesAh = truth.wakes.reduce((sum, { chargeAh }) => sum + chargeAh, 0);
  const parkedS =
    truth.parked.reduce((sum, stand) => sum + stand.asleepS, 0) + truth.wakes.reduce((sum, w) => sum + w.seconds, 0);
  const toLose = chargeToNoStartAh(capacityAh, charge.end);
  const aDayAh =
    24 * sleepA + (wakesAh * 86_400) / parkedS + capacityAh * selfLossPerDay(chemistry, asleepC ?? climate.meanC);
  return (toLose.low + toLose.high) / 2 / aDayAh;
}
