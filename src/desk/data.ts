/** What `standstill desk` puts into the page beside its program: words, pages, letters, the shop's face. */
import type { Shop } from '../report/shop/shop.ts';

export interface DeskData {
  readonly version: string;
  /** By path below `content/`; the shop's own in place of ours. */
  readonly words: Readonly<Record<string, string>>;
  /** By path below `templates/`. */
  readonly templates: Readonly<Record<string, string>>;
  /** Handlebars' own form, by kind and hash of the text. */
  readonly compiled: Readonly<Record<string, unknown>>;
  /** Base64, by the file's name. */
  readonly fonts: Readonly<Record<string, string>>;
  readonly languages: readonly string[];
  /** `assembly/plain-rows.ts` compiled, in base64. */
  readonly plainRows: string;
  readonly shop: Shop | null;
}

export const DATA: DeskData = (globalThis as unknown as { STANDSTILL_DATA: DeskData }).STANDSTILL_DATA;
