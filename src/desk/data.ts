/** What `standstill desk` puts into the page beside its program: words, pages, letters, the shop's face. */
import type { Shop } from '../report/shop/shop.ts';

export interface DeskData {
  readonly version: string;
  /** `toolKey` and `shopKey` of whoever wrote the page: what an archive notes beside a report that both make alike. */
  readonly keys: { readonly tool: string; readonly face: string };
  /** By path below `content/`; the shop's own folders come before ours. */
  readonly words: readonly Readonly<Record<string, string>>[];
  /** By path below `templates/`, in the same way. */
  readonly templates: readonly Readonly<Record<string, string>>[];
  /** Handlebars' own form, by kind and hash of the text. */
  readonly compiled: Readonly<Record<string, unknown>>;
  /** Base64, by the file's name. */
  readonly fonts: Readonly<Record<string, string>>;
  readonly languages: readonly string[];
  /** Of the archive's pages: as the command line was asked, or the shop's; null where nobody said. */
  readonly language: string | null;
  /** `assembly/plain-rows.ts` compiled, in base64. */
  readonly plainRows: string;
  /** `desk/assembly/sha256.ts`, the same. */
  readonly sha256: string;
  /** `desk/helper.ts`, a script. */
  readonly helper: string;
  readonly shop: Shop | null;
}

export const DATA: DeskData = (globalThis as unknown as { STANDSTILL_DATA: DeskData }).STANDSTILL_DATA;
