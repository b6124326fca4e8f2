/** A page of an archive, on its way to a disk or to memory. */
import { hexHashOf } from '../../base/bytes.ts';

/**
 * Takes a page by its path in the archive, with `/`. Pages of which the same is said as before need not be made again.
 *
 * @param madeFrom hash of all that the page is made from but words, templates and code
 */
export type PutPage = (path: string, madeFrom: string, make: () => string | Promise<string>) => Promise<void>;

export const madeFrom = (...parts: readonly string[]) => hexHashOf(parts.join('\0'));
