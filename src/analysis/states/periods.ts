/** From labelled tiles to the periods of the contract: in order, without overlap, from the log's start to its end. */
import type { Period, PeriodKind } from '../model.ts';
import type { Sleep } from '../sleep/sleep.ts';
import type { Tiles } from '../tiles/tiles.ts';
import type { Label } from './label.ts';
import type { EvidenceOf } from './period-evidence.ts';
import type { StandTiles } from './stands.ts';

/** Charge is split into in and out at this grain while parked, so that a sensor's noise does not count twice, s. */
export const PARKED_GRAIN_S = 60;

/** Where the log has current and a parked stretch has none, nobody can tell whether the vehicle slept: no data, though voltage is known. */
export function kindsOf(
  tiles: Tiles,
  labels: readonly Label[],
  stands: readonly StandTiles[],
  sleeps: readonly Sleep[],
  hasCurrent: boolean,
): PeriodKind[] {
  const kinds = labels.map((label): PeriodKind => (label === 'parked' || label === 'top-up' ? 'awake' : label));
  stands.forEach((stand, at) => {
    const { asleep } = sleeps[at];
    let slept = false;
    for (let k = stand.first; k <= stand.last; k++) {
      if (labels[k] !== 'parked') continue;
      if (hasCurrent && Number.isNaN(tiles.i[k])) {
        kinds[k] = 'no-data';
        continue;
      }
      if (asleep[k - stand.first]) slept = true;
      kinds[k] = asleep[k - stand.first] ? 'asleep' : slept ? 'awake' : 'settling';
    }
  });
  return kinds;
}

/**
 * @param evidenceOf what tells that tiles `first` to `last` are of a kind, and how sure that is
 * @param end of the log, s; a last row that stands alone behind a gap has no tile
 */
export function findPeriods(tiles: Tiles, kinds: readonly PeriodKind[], evidenceOf: EvidenceOf, end: number): Period[] {
  const periods: Period[] = [];
  let first = 0;
  for (let k = 1; k <= tiles.n; k++) {
    const next = k < tiles.n ? tiles.t0[k] : end;
    const hole = next - tiles.t1[k - 1] > 1e-6;
    if (k < tiles.n && !hole && kinds[k] === kinds[first]) continue;
    const kind = kinds[first];
    const charge = chargeOf(tiles, first, k - 1, kind === 'driving' || kind === 'cranking' ? 0 : PARKED_GRAIN_S);
    add(periods, { kind, start: tiles.t0[first], end: tiles.t1[k - 1], ...charge, ...evidenceOf(kind, first, k - 1) });
    if (hole) add(periods, { kind: 'no-data', start: tiles.t1[k - 1], end: next, ...NO_CHARGE, ...NO_ROWS });
    first = k;
  }
  return periods;
}

const NO_ROWS = { evidence: ['no-rows'], certainty: 1 };
const NO_CHARGE = { chargeInAh: 0, chargeOutAh: 0 };

/** A hole in the rows and unreadable rows next to it are one stretch without data. */
function add(periods: Period[], period: Period): void {
  const before = periods[periods.length - 1];
  if (period.kind === 'no-data' && before?.kind === 'no-data')
    periods[periods.length - 1] = { ...before, end: period.end };
  else periods.push(period);
}

/** Beyond any sensor's noise: so much flows one way or the other, A. Common practice, no source. */
const CLEAR_A = 5;

/** Adds up what flows in and out, A·s, apart by the sign of the net over at least `grainS`, or by what is clear at once. */
export function splitCharge(grainS: number) {
  const sum = { inAs: 0, outAs: 0 };
  let [net, covered] = [0, 0];
  const put = (charge: number) => {
    if (charge > 0) sum.inAs += charge;
    else sum.outAs -= charge;
  };
  const settle = () => {
    put(net);
    [net, covered] = [0, 0];
  };
  return {
    add(netAs: number, seconds: number) {
      if (Math.abs(netAs) >= CLEAR_A * seconds) return put(netAs);
      net += netAs;
      covered += seconds;
      if (covered >= grainS) settle();
    },
    sum() {
      settle();
      return sum;
    },
  };
}

/** Charge in and out of tiles `first` to `last`, see `splitCharge`. */
export function chargeOf(tiles: Tiles, first: number, last: number, grainS: number) {
  const split = splitCharge(grainS);
  for (let k = first; k <= last; k++) split.add(tiles.netAs[k], tiles.iCov[k]);
  const { inAs, outAs } = split.sum();
  return { chargeInAh: inAs / 3600, chargeOutAh: outAs / 3600 };
}
