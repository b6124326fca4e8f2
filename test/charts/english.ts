import { loadContent } from '../../src/report/words/content.ts';

/** Words of the charts as they are shipped. */
export const ENGLISH = loadContent('en').words;
