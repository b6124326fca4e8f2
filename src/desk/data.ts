/** What `standstill desk` puts into the page beside its program: words, pages, letters, the shop's face. */
import type { Shop } from '../report/shop/shop.ts';

/** By path in the folder. */
export interface WordFiles {
  readonly texts: Readonly<Record<string, string>>;
  /** YAML files, which take long to read: their words by dotted key. */
  readonly words: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

export interface DeskData {
  readonly version: string;
  /** `toolKey` and `shopKey` of whoever wrote the page: what an archive notes beside a report that both make alike. */
  readonly keys: { readonly tool: string; readonly face: string };
  /** Of `content/`; the shop's own folders come before ours. */
  readonly words: readonly WordFiles[];
  /** By path below `templates/`, in the same way. */
  readonly templates: readonly Readonly<Record<string, string>>[];
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

/** Set before anything of the program runs: by `page/given.ts`, and where a worker's script begins. */
const given = globalThis as unknown as {
  readonly STANDSTILL_DATA: DeskData;
  /** Templates in Handlebars' own form, by kind and hash of the text; of workers alone. */
  readonly STANDSTILL_FORMS: Readonly<Record<string, unknown>>;
};

export const DATA: DeskData = given.STANDSTILL_DATA;
export const formOf = (name: string): unknown => given.STANDSTILL_FORMS[name];
