/** What the parts of the page's view are made with. */
import type { Content } from './content.ts';
import type { Format } from './format.ts';
import type { ShownPhoto } from './photos.ts';

/** A chart as drawn: `svg` is trusted, its texts were escaped when it was drawn. */
export interface PageChart {
  readonly name: string;
  readonly check: string | null;
  readonly title: string;
  readonly svg: string;
}

export interface PageWords {
  readonly content: Content;
  readonly format: Format;
  /** By a photo's path. */
  readonly photos?: ReadonlyMap<string, ShownPhoto>;
}

/** s since the epoch. */
export function epoch(iso: string): number {
  return Date.parse(iso) / 1000;
}
