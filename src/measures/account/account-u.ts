/** What is known of the parts of a stand's charge. Each has what its own time and rows leave open: they do not add up to the whole's. */
import { approachAh } from '../../analysis/approach.ts';
import type { Analysis, PeriodKind, Stand } from '../../analysis/model.ts';
import { tilesWithin, withEdges } from '../../analysis/tiles/tiles-in.ts';
import { type CountedCharge, countedU, sampledU } from '../../analysis/totals.ts';
import { accuracyOf, stepLeft } from '../../analysis/uncertain.ts';
import { combine, type Uncertainty, uncertaintyOf, widened } from '../../battery/uncertainty.ts';
import type { Session } from '../../manifest/session.ts';
import { total } from '../spans.ts';
import { periodsOf } from './awake-runs.ts';
import { heldU } from './held-u.ts';
import type { StandAccount } from './stand-account.ts';

/** Of each part, Ah. */
export type AccountU = Readonly<Record<'settling' | 'asleep' | 'wakes' | 'held' | 'fed' | 'unknown', Uncertainty>>;

export function accountU(account: StandAccount, stand: Stand, analysis: Analysis, session: Session): AccountU {
  const { tiles, resolution, noiseA } = analysis;
  const counted = { tiles, sensors: { session, resolution }, noiseA };
  const of = (...kinds: PeriodKind[]) =>
    periodsOf(analysis, stand)
      .filter(({ kind }) => kinds.includes(kind))
      .flatMap((period) => tilesWithin(tiles, period));
  const [settling, asleep, awake] = [of('settling'), of('asleep'), of('awake')];
  const loads = account.held.map((load) => heldU(load, analysis, session).chargeAh);
  const loadsU = combine(...loads.map(({ u }) => u));
  return {
    // What of it a load took is taken off.
    settling: widened(
      countedU(counted, settling, account.settlingAh, [], withEdges(tiles, settling)),
      account.settlingAh > 0 ? loadsU : 0,
    ),
    // The level flows below wakes too, whose edges are not its own.
    asleep: countedU(counted, [...asleep, ...awake], account.asleepAh, [], asleep),
    wakes: aboveU(counted, awake, account.wakesAh, approachAh(analysis.periods, stand)),
    held: { u: loadsU, k: loads.length === 1 ? (loads[0]?.k ?? 2) : 2 },
    fed: countedU(counted, account.fedAh > 0 ? of('on-charger', 'awake') : [], account.fedAh),
    unknown: aboveU(counted, account.unknownAh > 0 ? awake : [], account.unknownAh),
  };
}

/** Of a charge above the sleeping level, which has the same offset: it cancels. `openAh`: what may belong to it besides. */
function aboveU(
  { tiles, sensors, noiseA }: CountedCharge,
  chosen: readonly number[],
  chargeAh: number,
  openAh = 0,
): Uncertainty {
  const hours = total(chosen, (k) => tiles.iCov[k]) / 3600;
  const rows = total(chosen, (k) => tiles.rows[k]);
  const noise = noiseA ?? 0;
  const { relative } = accuracyOf('current', sensors.session);
  return uncertaintyOf(
    [relative * Math.abs(chargeAh), stepLeft(sensors.resolution.i, noise) * hours, openAh],
    combine(rows > 0 ? (noise * hours) / Math.sqrt(rows) : 0, sampledU(tiles, withEdges(tiles, chosen))),
  );
}
