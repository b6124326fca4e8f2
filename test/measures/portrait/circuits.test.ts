import { expect, it } from 'vitest';
import type { Channel } from '../../../src/manifest/session.ts';
import { circuits } from '../../../src/measures/portrait/circuits.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

const FUSE: Channel = { name: 'f', label: 'fuse 12', unit: 'V', measures: 'supply' } as Channel;

/** On while driving and `afterS` beyond it, from `beforeS` before each key-on on; and for `pulseS` in each night after two hours. */
function circuit({ afterS = 0, beforeS = 0, pulseS = 0 }, channel = FUSE) {
  const analysis = week();
  const isOn = (t: number, kind: string) => {
    if (kind === 'driving' || kind === 'cranking') return true;
    const stand = analysis.stands.findLast(({ start }) => start <= t);
    if (!stand) return false;
    const [since, until] = [t - stand.start, stand.end - t];
    const isPulse = since > 7200 && since < 7200 + pulseS;
    return (stand.keyOffInLog && since < afterS) || (stand.keyOnInLog && until < beforeS) || isPulse;
  };
  const tiled = withTiles(
    analysis,
    (t, kind) => ({ v: 12.5, i: kind === 'driving' ? 4 : -0.02, ch: [isOn(t, kind) ? 12.4 : 0.02] }),
    10,
  );
  const own = session();
  return circuits(tiled, { ...own, log: { ...own.log, channels: [channel] } });
}

it('goes dark after key-off and comes on before key-on, as told', () => {
  const [shown] = circuit({ afterS: 600, beforeS: 40 });
  expect(shown.channel).toBe('fuse 12');
  expect(shown.offAfterS?.p50).toBeCloseTo(600, -1);
  expect(shown.onAfterS?.p50).toBeCloseTo(-40, -1);
  expect(shown.onShare.driving).toBe(1);
  expect(shown.onShare.asleep).toBeLessThan(0.01);
  expect([shown.voltsOn?.p50, shown.voltsOff?.p50]).toEqual([12.4, 0.02].map((v) => expect.closeTo(v, 1)));
  expect(shown.pulses).toBe(0);
});

it('counts the times that it came on while parked', () => {
  const [shown] = circuit({ pulseS: 120 });
  expect(shown.pulses).toBe(week().stands.filter(({ start, end }) => end - start > 7320).length);
  expect(shown.pulseS?.p50).toBeCloseTo(120, -1);
});

it('a cable or ground that a channel is set across is no circuit', () => {
  expect(circuit({}, { ...FUSE, measures: 'drop' })).toEqual([]);
});
