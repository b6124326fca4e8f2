import { readFileSync } from 'node:fs';
import { PROJECT } from './project.ts';

/** The tool's version, from its package. */
export const VERSION: string = JSON.parse(readFileSync(new URL('package.json', PROJECT), 'utf8')).version;
