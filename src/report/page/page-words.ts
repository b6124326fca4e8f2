/** What the parts of the page's view are made with. */

import type { ShownPhoto } from '../pictures/photos.ts';
import type { Content } from '../words/content.ts';
import type { Format } from '../words/format.ts';

/** A chart that stands on the page; its picture may come later. */
export interface PageChart {
  readonly name: string;
  readonly check: string | null;
  readonly title: string;
}

/**
 * Holds a picture's place until it is drawn. Text from outside is escaped, so that it cannot look like this. With a prefix
 * its ids are new ones, so that it may stand twice.
 */
export const placeOf = (name: string, prefix = ''): string => `<!--picture ${prefix}|${name}-->`;

/** Puts pictures in their places. They are trusted: their texts were escaped when they were drawn. */
export function withPictures(html: string, pictureOf: (name: string) => string): string {
  return html.replaceAll(/<!--picture ([a-z-]*)\|([a-z-]+)-->/g, (_, prefix: string, name: string) =>
    pictureOf(name).replaceAll(name, `${prefix}${name}`),
  );
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

/** Where something is in the log, for the page's script: s from its start and how long. */
export function placeIn({ log }: { readonly log: { readonly start: string } }) {
  return (start: string, seconds: number): string =>
    `${Number((epoch(start) - epoch(log.start)).toFixed(2))} ${Number(seconds.toFixed(2))}`;
}
