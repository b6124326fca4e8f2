/** What of a session's folder stays out of its report, or lies beside its log: for whoever builds it, not for its readers. */
import type { Span } from '../analysis/model.ts';
import { plainText } from '../base/shown.ts';
import { zoneOf } from '../base/zone.ts';
import type { Session } from '../manifest/session.ts';
import type { ShownPhoto } from './pictures/photos.ts';
import { makeFormat } from './words/format.ts';

/** A note of the day of fitting, or of giving back, is none too far off, s. */
const BESIDE_S = 86_400;

/** @param log its first and last row, s since the epoch */
export function remarksOf(session: Session, shown: ReadonlyMap<string, ShownPhoto>, log: Span): string[] {
  const format = makeFormat('en-GB', zoneOf(session.timezone));
  const photos = session.photos.flatMap(({ file }, k) => {
    const why = shown.get(file)?.why;
    if (!why) return [];
    const kind = /\.webp$/i.test(file) ? 'WebP is not shown' : 'it is no JPEG or PNG that can be read';
    const said = why === 'too_large' ? 'it is too large; PNG is taken up to 200 kB' : kind;
    return [`photos[${k}]: "${plainText(file)}" is left out of the report: ${said}. Save it as JPEG.`];
  });
  const outside = (atMs: number) => atMs / 1000 < log.start - BESIDE_S || atMs / 1000 > log.end + BESIDE_S;
  const notes = session.notes.flatMap(({ atMs, text }, k) =>
    outside(atMs)
      ? [
          `notes[${k}]: "${plainText(text)}" is of ${format.dateTime(atMs / 1000)}, more than a day outside the log. Is its date right?`,
        ]
      : [],
  );
  return [...photos, ...notes];
}
