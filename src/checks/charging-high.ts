/**
 * Does charging exceed its window? Sustained is what harms: a fault needs half of a drive above the window. Vehicles that
 * recover braking energy raise the voltage for moments; those count only where they go well beyond the window too, and
 * then the drive is worth watching.
 */
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { type JudgedDrive, judgedDrives, SHORTEST_DRIVE_S } from '../measures/drives.ts';
import type { CheckLimit, DefaultLimit } from '../measures/limit.ts';
import { limitOf } from '../measures/limit.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import type { Check } from './check.ts';

const CHARGING_MAX: DefaultLimit = {
  key: 'chargingVoltageMax',
  value: 14.6,
  unit: 'V',
  source: 'a vehicle maker’s typical window by temperature',
  applies: '12 V, flooded, at 20 °C; 15.1 V at −20 °C, 14.3 V at 60 °C; AGM and EFB 0.2 V higher; twice that for 24 V',
};

/** Published windows differ by about this, V for each 12 V: no verdict between one's upper end and the other's. */
const SPREAD_V = 0.1;

/** By how much a vehicle may go beyond the window for moments, V for each 12 V. Common practice, no source. */
const BRIEFLY_V = 0.3;

type Facts = {
  readonly shortestS?: number;
  readonly drives: number;
  readonly highDrives: number;
  readonly worstT: number;
  readonly worstS: number;
  readonly highV: number;
  readonly temperatureC: number | null;
  readonly temperatureSeen: boolean;
  readonly hasAlternator: boolean;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'charging-high',
  about: 'vehicle',
  side: 'max',
  needs: [],
  limits: [CHARGING_MAX],
  reasons: ['no-drive', 'drives-too-short', 'limit-within-uncertainty'],
  cautions: ['general', 'hydrogen', 'acid', 'moving-parts'],
  answer(analysis, session) {
    if (analysis.drives.length === 0) return { status: 'undecided', reason: 'no-drive' };
    const drives = judgedDrives(analysis, session).map((judged) => judge(judged, session));
    const worst = mostBy(drives, (one) => one.middle - one.limit.value);
    if (!worst) return { status: 'undecided', facts: { shortestS: SHORTEST_DRIVE_S }, reason: 'drives-too-short' };

    const above = drives.filter((one) => one.sustained === 'beyond');
    const peaky = mostBy(
      drives.filter((one) => one.brief === 'beyond'),
      (one) => one.high - one.limit.value,
    );
    const shown = above.length > 0 ? worst : (peaky ?? worst);
    const base = {
      measured: { value: worst.middle, unit: 'V', uncertainty: worst.U },
      limit: worst.limit,
      facts: {
        drives: drives.length,
        highDrives: above.length,
        worstT: shown.start,
        worstS: shown.seconds,
        highV: shown.high,
        temperatureC: shown.temperatureC,
        temperatureSeen: shown.temperatureC !== null,
        hasAlternator: session.vehicle.powertrain === 'combustion',
        accuracyStated: accuracyStated('voltage', session),
      },
      evidence: [{ chart: 'charging', from: shown.start, to: shown.start + shown.seconds }],
    } as const;
    if (worst.sustained === 'beyond') return { ...base, status: 'fault' };
    if (worst.sustained === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    return { ...base, status: peaky ? 'watch' : 'clear' };
  },
};

function judge({ drive, seconds, high, middle, window }: JudgedDrive, session: Session) {
  const U = expandedU(middle, 'voltage', session);
  const scale = session.vehicle.systemV / 12;
  const set = session.limits.chargingVoltageMax;
  const limit: CheckLimit = set
    ? limitOf(CHARGING_MAX, session)
    : { value: window.maxV, unit: 'V', source: window.source };
  const sustained = decide({ value: middle.value, U, limit: limit.value, side: 'max' });
  const inSpread = !set && middle.value - U <= limit.value + SPREAD_V * scale;
  return {
    limit,
    U,
    sustained: sustained === 'beyond' && inSpread ? ('undecided' as const) : sustained,
    brief: decide({ value: high.value, U, limit: limit.value + BRIEFLY_V * scale, side: 'max' }),
    middle: middle.value,
    high: high.value,
    seconds,
    start: drive.start,
    temperatureC: drive.temperatureC,
  };
}
