import { hexHashOf } from '../../base/bytes.ts';

/** By which a template that was compiled beforehand is found: its kind, and the hash of its text. */
export const formName = (kind: 'page' | 'prose', source: string): string => `${kind} ${hexHashOf(source)}`;
