/**
 * Vehicles by number, as `randomScenario` gives them, but woken more often and more dearly: one to three sources that
 * overlap, with a clock or without, and up to four channels, of which some are busy with something else.
 */
import { makeRandom, type Random } from '../../src/demo/random.ts';
import type { ChannelSpec, Scenario, WakeSource } from '../../src/demo/scenario.ts';
import { randomScenario } from './vehicles.ts';

const MIN = 60;
const HOUR = 3600;

export function wakefulScenario(number: number): Scenario {
  const random = makeRandom(15_485_863 + number);
  const base = randomScenario(number);
  const sources = random.pick([1, 1, 2, 2, 3]);
  const tied = random.chance(0.6) ? Math.min(sources, random.pick([1, 1, 2])) : 0;
  const decoys = random.pick([0, 1, 1, 2]);
  const channels: ChannelSpec[] = [
    ...Array.from({ length: tied }, (_, k): ChannelSpec => ({ label: `Feed ${k + 1}`, measures: 'supply' })),
    ...Array.from({ length: decoys }, (_, k) => decoy(random, `Decoy ${k + 1}`)),
  ];
  return {
    ...base,
    sleepA: random.between(0.006, 0.07),
    channels,
    wakes: Array.from({ length: sources }, (_, k) => source(random, k < tied ? k : undefined)),
  };
}

function source(random: Random, channel: number | undefined): WakeSource {
  const amps = 0.25 * 12 ** random.uniform();
  return {
    timing: random.chance(0.65) ? clock(random) : { meanEveryS: 0.6 * HOUR * 12 ** random.uniform() },
    stages: [
      { amps: 1.8 * amps, seconds: random.between(1.5, 5) },
      { amps, seconds: random.between(20, 300) },
      { amps: 0.4 * amps, seconds: random.between(8, 60) },
    ],
    spread: random.between(0, 0.2),
    ...(channel !== undefined && { channel }),
  };
}

function clock(random: Random) {
  const everyS = 12 * MIN * 20 ** random.uniform();
  return { everyS, jitterS: everyS * random.between(0, 0.03) };
}

function decoy(random: Random, label: string): ChannelSpec {
  const everyS = 8 * MIN * 20 ** random.uniform();
  return {
    label,
    measures: 'supply',
    decoy: {
      timing: random.chance(0.5) ? { meanEveryS: everyS } : { everyS, jitterS: everyS * random.between(0, 0.1) },
      seconds: everyS * random.between(0.05, 0.7),
    },
  };
}
