/** The manifest's photos, for the fitting record. */
import { join } from 'node:path';
import { type Files, nodeFiles, readable } from '../manifest/files.ts';
import type { Session } from '../manifest/session.ts';
import { cleanPhoto, dataUri } from './picture.ts';

/** A page of five days stays under 2 MB with them; larger photos are named only, since nothing here can shrink one. */
const MAX_BYTES = 300 * 1024;
const MAX_TOTAL_BYTES = 600 * 1024;

/** Path in the manifest to a `data:` address; without those that are too large, cannot be read, or are no JPEG or PNG. */
export function readPhotos({ folder, photos }: Session, files: Files = nodeFiles): ReadonlyMap<string, string> {
  const shown = new Map<string, string>();
  let total = 0;
  for (const photo of photos) {
    const full = join(folder, photo);
    const size = readable(
      () => files.stat(full)?.bytes ?? 0,
      () => 0,
    );
    if (size === 0 || size > MAX_BYTES || total + size > MAX_TOTAL_BYTES) continue;
    const bytes = readable<Uint8Array | null>(
      () => files.readFile(full),
      () => null,
    );
    const clean = bytes && cleanPhoto(bytes);
    if (!clean) continue;
    shown.set(photo, dataUri(clean));
    total += size;
  }
  return shown;
}
