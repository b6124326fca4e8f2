/** The manifest's photos: made fit for the page, and when each was taken. */
import { below, type Files, readable } from '../../base/files.ts';
import { zoneOf } from '../../base/zone.ts';
import type { Photo, Session } from '../../manifest/session.ts';
import { cleanPhoto, dataUri, smallerPhoto } from './picture.ts';

export interface ShownPhoto {
  /** `data:` address of the picture; null where it cannot be shown. */
  readonly address: string | null;
  /** Why not; a label below `fitting.not_shown`. */
  readonly why: 'too_large' | 'not_read' | null;
}

export interface ReadPhotos {
  /** The session's photos in its order; those without a time carry what their file says. */
  readonly photos: readonly Photo[];
  /** By the photo's path. */
  readonly shown: ReadonlyMap<string, ShownPhoto>;
}

/** A page of five days stays under 2 MB with them. */
const MOST_BYTES = 600 * 1024;
const MOST_BYTES_EACH = 200 * 1024;
/** Larger files are no photo of a camera, and are not opened. */
const MOST_BYTES_FILE = 40e6;

/** Each photo may take its share of what is left, so that small ones make room for others. */
export function readPhotos(session: Session, files: Files): ReadPhotos {
  const shown = new Map<string, ShownPhoto>();
  let left = MOST_BYTES;
  const photos = session.photos.map((photo, k): Photo => {
    const full = below(session.folder, photo.file);
    const fileBytes = readable(
      () => files.stat(full)?.bytes ?? 0,
      () => 0,
    );
    const bytes = readable<Uint8Array | null>(
      () => (fileBytes > MOST_BYTES_FILE ? null : files.readFile(full)),
      () => null,
    );
    const clean = bytes && cleanPhoto(bytes);
    const small = clean && smallerPhoto(clean, Math.min(MOST_BYTES_EACH, left / (session.photos.length - k)));
    left -= small?.data.length ?? 0;
    const why = small ? null : clean || fileBytes > MOST_BYTES_FILE ? 'too_large' : 'not_read';
    shown.set(photo.file, { address: small && dataUri(small), why });
    const atMs = photo.atMs === undefined ? cameraTime(clean?.takenLocalMs ?? null, session.timezone) : undefined;
    return atMs === undefined ? photo : { ...photo, atMs, atFrom: 'camera' };
  });
  return { photos, shown };
}

/** Taken as local to the session's zone; a time that came twice or never there is no time. */
function cameraTime(takenLocalMs: number | null, timezone: string): number | undefined {
  if (takenLocalMs === null) return undefined;
  const { candidates } = zoneOf(timezone).localToUtc(takenLocalMs);
  return candidates.length === 1 ? candidates[0] : undefined;
}
