/**
 * Does a channel set across a cable or ground show too much voltage drop under load? The path's resistance is taken from
 * the heaviest loads and told as the drop at the starter's steady current: the inrush loses more in a sound cable too. The
 * log does not say what lies between the channel's two ends, so more than a ground path may lose is worth watching, and
 * more than a whole cable may is a fault.
 */

import type { Analysis } from '../analysis/model.ts';
import { ASSUMED_ACCURACY, accuracyOf } from '../analysis/uncertain.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { POSITIVE_CABLE_DROP_V } from '../battery/cranking.ts';
import { accuracyU, combine, decide, expand, resolutionU } from '../battery/uncertainty.ts';
import type { Channel, Session } from '../manifest/session.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf } from '../measures/limit.ts';
import { type PathDrop, pathDrops } from '../measures/path-drop.ts';
import { mostBy } from '../measures/spans.ts';
import type { Check } from './check.ts';

const CABLE: DefaultLimit = {
  key: 'cableDrop',
  value: POSITIVE_CABLE_DROP_V,
  unit: 'V',
  source: 'positive cable while cranking, US Army TM 10-3930-671-24, p. F-303 (seen)',
  applies: '12 V, at the starter’s steady current; in proportion for 6 and 24 V',
};

const GROUND: DefaultLimit = {
  key: 'groundDrop',
  value: 0.2,
  unit: 'V',
  source: 'from the starter to the battery’s earth post, US Army TM 5-3820-256-24-4, CGES-230, p. 8 (seen)',
  applies: '12 V, an earth path, watched; vehicle makers publish 0.1 V to 0.5 V',
};

type Facts = {
  readonly channels: number;
  readonly judged: number;
  readonly channel: string;
  readonly loadA: number;
  readonly cranking: boolean;
  readonly ohm: number;
  readonly groundV: number;
  readonly worstT: number;
};

export const check: Check<Facts> = {
  id: 'circuit-drop',
  about: 'vehicle',
  largeCurrent: true,
  side: 'max',
  needs: ['current', 'channels'],
  limits: [CABLE, GROUND],
  reasons: ['no-drop-channel', 'no-load', 'limit-within-uncertainty'],
  cautions: ['general', 'short-circuit', 'exhaust', 'moving-parts'],
  answer(analysis, session) {
    const scale = perTwelveVolt(session.vehicle.systemV);
    const limit = { ...limitOf(CABLE, session), value: CABLE.value * scale };
    const channels = session.log.channels.flatMap((channel, c) =>
      channel.measures === 'drop' ? [{ channel, c }] : [],
    );
    if (channels.length === 0) return { status: 'undecided', limit, reason: 'no-drop-channel' };
    const drops = pathDrops(analysis, session);
    const judged = channels.flatMap(({ channel, c }) => judge(analysis, session, channel, drops[c] ?? null));
    const worst = mostBy(judged, (one) => one.volts);
    if (!worst) return { status: 'undecided', limit, facts: { channels: channels.length }, reason: 'no-load' };

    const { drop, volts, U } = worst;
    const groundV = GROUND.value * scale;
    const base = {
      measured: { value: volts, unit: 'V', uncertainty: U },
      limit,
      facts: {
        channels: channels.length,
        judged: judged.length,
        channel: worst.label,
        loadA: drop.loadA,
        cranking: drop.cranking,
        ohm: drop.ohm.value,
        groundV,
        worstT: drop.at,
      },
      evidence: [{ chart: 'circuit-drop', from: analysis.start, to: analysis.end }],
    } as const;
    const cable = decide({ value: volts, U, limit: limit.value, side: 'max' });
    if (cable === 'beyond') return { ...base, status: 'fault' };
    if (cable === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    // Without a crank a small drop at a small load says little of what a starter would make of it.
    if (!drop.cranking && session.vehicle.powertrain === 'combustion')
      return { ...base, status: 'undecided', reason: 'no-load' };
    const ground = decide({ value: volts, U, limit: groundV, side: 'max' });
    return { ...base, status: ground === 'beyond' ? 'watch' : 'clear' };
  },
};

function judge(analysis: Analysis, session: Session, channel: Channel, drop: PathDrop | null) {
  if (!drop) return [];
  const volts = drop.ohm.value * drop.loadA;
  // Channels have no stated accuracy of their own.
  const channelU = combine(accuracyU(ASSUMED_ACCURACY.voltage, volts), resolutionU(analysis.resolution.v));
  const { relative } = accuracyOf('current', session);
  const U = expand(combine(channelU, drop.loadA * drop.ohm.u, accuracyU({ relative, absolute: 0 }, volts)));
  return [{ label: channel.label, drop, volts, U }];
}
