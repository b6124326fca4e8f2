/** What a report was made from, as one hash. */
import { hexHashOf } from '../base/bytes.ts';

/**
 * @param options everything but the session's files that decides the report's bytes
 * @param hashes of manifest, logs and photos, by name, in this order
 */
export function keyOf(
  options: Readonly<Record<string, unknown>>,
  hashes: readonly (readonly [name: string, sha256: string])[],
): string {
  return hexHashOf(JSON.stringify(options) + hashes.map(([name, hash]) => `\0${name}\0${hash}`).join(''));
}
