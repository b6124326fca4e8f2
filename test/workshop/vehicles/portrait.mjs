// What normal looks like: the portrait of sound vehicles whose top-ups, staircases, circuits and cycles are known. Counts are exact,
// levels and lengths within 3 %. All of it still to come in the contract.
import { cranks, drives, driving, later, near, sound, that } from '../expect.mjs';
import { every, fixed, repeat, Vehicle } from '../vehicle.mjs';

const ADAPTIVE = { adaptive: { fast: 0.05, active: 1, quiet: 10 }, step: 1 };
const baseline = { purpose: 'baseline', concern: 'None' };
const counts = (cycles, drivesN, starts) => [
  near('key cycles', cycles, 0, (r) => r.portrait?.key_cycles?.count),
  near('drives of the portrait', drivesN, 0, (r) => r.portrait?.drives?.count),
  near('starts of the portrait', starts, 0, (r) => r.portrait?.starts?.count),
];
/** The usual staircase after key-off, the sleeping level left out. */
const staircase = (stair) =>
  stair.map(([A, s], k) =>
    that(
      `step ${k + 1} of the staircase: ${A} A for ${s} s`,
      (r) => {
        const step = r.portrait?.shutdown?.[k];
        return (
          r.portrait.shutdown.length === stair.length &&
          Math.abs(step.level_a - A) < 0.03 * A &&
          Math.abs(step.seconds - s) < 0.03 * s + 5
        );
      },
      (r) => JSON.stringify(r.portrait?.shutdown),
    ),
  );
const topUps = (v, n, period, seconds) => [
  near('top-ups', n, 0, (r) => r.portrait?.top_ups?.count),
  near('seconds between top-ups', period, 0.03 * period, (r) => r.portrait?.top_ups?.period_s),
  near('seconds of a top-up', seconds, 0.03 * seconds + 10, (r) => r.portrait?.top_ups?.seconds?.p50),
  // The median: the first after a drive that was too short puts in more than the others.
  near('Ah of a top-up', middle(fedAh(v)), 0.03 * middle(fedAh(v)), (r) => r.portrait?.top_ups?.charge_ah?.p50),
];
const middle = (list) =>
  ([...list].sort((a, b) => a - b)[(list.length - 1) >> 1] + [...list].sort((a, b) => a - b)[list.length >> 1]) / 2;
/** What went in during each feed, by the trapezium rule over the logger's rows. */
const fedAh = ({ truth, rows: { t, a } }) =>
  truth.feeds.map(({ start, seconds }) => {
    let ah = 0;
    for (let k = 1; k < t.length; k++)
      if (t[k - 1] >= start && t[k] <= start + seconds) ah += (((a[k] + a[k - 1]) / 2) * (t[k] - t[k - 1])) / 3600;
    return ah;
  });
const circuit = (k, kind, share) =>
  near(`share of ${kind} with circuit ${k + 1} on`, share, 0.03, (r) => r.portrait?.circuits?.[k]?.on_share?.[kind]);
const dark = (k, s) =>
  near(
    `circuit ${k + 1} goes dark after`,
    s,
    0.03 * s + 10,
    (r) => r.portrait?.circuits?.[k]?.off_after_key_off_s?.p50,
  );
const days = that(
  'the days add up to the totals',
  (r) =>
    Math.abs(r.portrait.days.reduce((sum, d) => sum + d.charge_in_ah, 0) - r.totals.charge_in_ah) <
    0.01 * r.totals.charge_in_ah + 0.01,
  (r) => JSON.stringify(r.portrait?.days)?.slice(0, 200),
);

export default {
  // A car with a five-step way to sleep and two circuits: one dark with the last step, one with the second.
  'five-steps': () => {
    const stair = [
      [8.5, 20],
      [4.2, 60],
      [1.9, 240],
      [0.9, 300],
      [0.35, 900],
    ];
    const v = new Vehicle({ seed: 1701, charge: 0.88, logger: ADAPTIVE });
    repeat(5, (k) =>
      v.trip(22 + 5 * k).park(k === 2 ? 20 : 9, { sleepA: 0.014, stair, decoys: [{ at: 0, seconds: 80, on: 2 }] }),
    );
    return {
      vehicle: v,
      format: { circuits: 2 },
      manifest: baseline,
      expect: (x) => [
        sound(),
        drives(5),
        cranks(5),
        driving(x.truth),
        ...later([
          ...counts(5, 5, 5),
          ...staircase(stair),
          circuit(0, 'driving', 1),
          circuit(0, 'asleep', 0),
          dark(0, 1520),
          dark(1, 80),
          days,
        ]),
      ],
    };
  },
  // An electric car: 25 A for 34 min after each 5 h asleep, in three stands.
  'electric-5h': () => {
    const v = new Vehicle({ seed: 1702, chemistry: 'agm', capacityAh: 50, charge: 0.84, logger: ADAPTIVE });
    const feeds = (h) =>
      every(5 * 3600, 5 * 3600, 2040, 0, h).map((f) => ({ at: f.at, seconds: 2040, volts: 14.1, amps: 25 }));
    for (const h of [22, 13, 31])
      v.trip(26, { crank: false, regulator: fixed(14.1, 0), ripple: 0.004, amps: 150 }).park(h, {
        sleepA: 0.024,
        feeds: feeds(h),
      });
    return {
      vehicle: v,
      manifest: { ...baseline, powertrain: 'electric', coldCranking: null },
      expect: (x) => [
        sound(),
        drives(3),
        cranks(0),
        driving(x.truth),
        ...later([...counts(3, 3, 0), ...topUps(x, 12, 18000, 2040), days]),
      ],
    };
  },
  // A hybrid that tops up for 12 min each 26 h only, seen three times in a long stand, and key cycles without a drive.
  'hybrid-26h': () => {
    const v = new Vehicle({ seed: 1703, chemistry: 'agm', capacityAh: 45, charge: 0.86, logger: ADAPTIVE });
    v.trip(40, { crank: false, regulator: fixed(14.0, 0), ripple: 0.004, amps: 120 }).park(80, {
      sleepA: 0.015,
      feeds: [1, 2, 3].map((k) => ({ at: k * 26 * 3600 - 1000, seconds: 720, volts: 13.8, amps: 30 })),
    });
    repeat(2, () => v.keyOn(90, 12).park(3, { sleepA: 0.015 }));
    return {
      vehicle: v,
      manifest: { ...baseline, powertrain: 'hybrid', coldCranking: 400 },
      expect: (x) => [
        sound(),
        drives(1),
        cranks(0),
        driving(x.truth),
        ...later([...counts(3, 1, 0), ...topUps(x, 3, 26 * 3600, 720), days]),
      ],
    };
  },
};
