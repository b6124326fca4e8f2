/** Day and month the wrong way round: a log that falls into pieces as the manifest says it, and joins in the other order. */
import { UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import type { LogAccount } from '../block.ts';

/** Days that follow each other come a month apart where day and month are taken for each other, s. */
const MONTH_S = 25 * 86_400;
/** Of what is lacking, so much may be left in the right order. */
const LEFT = 0.1;
/** Rows that cannot be read, because no year has so many months. */
const MANY_REJECTED = 0.05;

/** The session with day and month changed, where the account gives reason to look; undefined otherwise. */
export function inOtherOrder(session: Session, account: LogAccount): { session: Session; pattern: string } | undefined {
  const { time } = session.log.columns;
  const pattern = typeof time?.format === 'object' ? swapped(time.format.pattern) : undefined;
  if (time === undefined || pattern === undefined) return undefined;
  const apart = account.gaps.some(({ seconds }) => seconds > MONTH_S);
  if (!apart && account.rowsRejected < MANY_REJECTED * account.rows) return undefined;
  const columns = { ...session.log.columns, time: { ...time, format: { pattern } } };
  return { session: { ...session, log: { ...session.log, columns } }, pattern };
}

/** Throws UserError where the log, read in the other order, lacks next to nothing of what it lacks in this one. */
export function refuseOrder(session: Session, said: LogAccount, other: LogAccount, pattern: string): void {
  const [lackS, otherLackS] = [gapsS(said), gapsS(other)];
  const joins = lackS > MONTH_S && otherLackS < LEFT * lackS && other.rowsRejected <= said.rowsRejected;
  const reads = said.rowsRejected > MANY_REJECTED * said.rows && other.rowsRejected < LEFT * said.rowsRejected;
  if (!joins && !reads) return;
  const { format, at } = session.log.columns.time ?? {};
  const now = typeof format === 'object' ? plainText(format.pattern) : '';
  const days = (seconds: number) => `${Math.round(seconds / 86_400)} days`;
  const what = joins
    ? `the log lacks ${days(lackS)}; with day and month the other way round its rows join${otherLackS > 0 ? ` but for ${days(otherLackS)}` : ' without a gap'}`
    : `${said.rowsRejected} of ${said.rows} rows have no such date; with day and month the other way round ${other.rowsRejected === 0 ? 'all of them' : `all but ${other.rowsRejected}`} can be read`;
  const message = `As "${now}" ${what}. Say "${plainText(pattern)}".`;
  throw new UserError([
    { file: 'session.yaml', line: at?.line, column: at?.column, path: 'log.columns.time.format', message },
  ]);
}

function gapsS({ gaps }: LogAccount): number {
  return gaps.reduce((sum, { seconds }) => sum + seconds, 0);
}

/** Undefined where the month is a name, or one of the two is not there. */
function swapped(pattern: string): string | undefined {
  const parts = pattern.match(/\[[^\]]*\]|D+|M+|[^DM[]+|\[/g) ?? [];
  const [days, months] = [parts.filter((part) => /^DD?$/.test(part)), parts.filter((part) => /^M+$/.test(part))];
  if (days.length !== 1 || months.length !== 1 || (months[0] ?? '').length > 2) return undefined;
  const other = (part: string) =>
    part === days[0] ? 'M'.repeat(part.length) : part === months[0] ? 'D'.repeat(part.length) : part;
  return parts.map(other).join('');
}
