/** Day and month the wrong way round in a log too short to fall into pieces by it: the fitting record knows the day. */
import type { Analysis } from '../analysis/model.ts';
import { UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import type { Session } from '../manifest/session.ts';

const DAY_S = 86_400;
/** What a clock, a time zone and a late fitting leave open. Common practice, no source. */
const NEAR_S = 3 * DAY_S;

/** Throws UserError where the log lies far from the fitting as its times are read, and at it with day and month changed. */
export function refuseOtherDay({ start }: Pick<Analysis, 'start'>, { log, install }: Session): void {
  const { format, at } = log.columns.time ?? {};
  if (typeof format !== 'object' || install.fittedAtMs === undefined) return;
  const fittedS = install.fittedAtMs / 1000;
  const date = new Date(start * 1000);
  const [year, month, day] = [date.getUTCFullYear(), date.getUTCMonth() + 1, date.getUTCDate()];
  if (day > 12 || day === month) return;
  const otherS = Date.UTC(year, day - 1, month) / 1000 + (start % DAY_S);
  if (Math.abs(start - fittedS) <= NEAR_S || Math.abs(otherS - fittedS) > NEAR_S) return;
  const iso = (seconds: number) => new Date(seconds * 1000).toISOString().slice(0, 10);
  const message = `As "${plainText(format.pattern)}" the log begins on ${iso(start)}, and the logger was fitted on ${iso(fittedS)} (install.fitted_at). With day and month the other way round it begins on ${iso(otherS)}. Change DD and MM.`;
  throw new UserError([
    { file: 'session.yaml', line: at?.line, column: at?.column, path: 'log.columns.time.format', message },
  ]);
}
