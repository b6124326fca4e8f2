import { loadContent } from '../../src/report/content.ts';

/** Words of the charts as they are shipped. */
export const ENGLISH = loadContent('en').words;
