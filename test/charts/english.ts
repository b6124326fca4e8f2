import { loadContent } from '../../src/node/content.ts';

/** Words of the charts as they are shipped. */
export const ENGLISH = loadContent('en').words;
