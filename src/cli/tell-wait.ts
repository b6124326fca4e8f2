/** Who is being waited for, at once, and how long that may take. */
import type { Terminal } from './terminal.ts';

export const tellWait = (out: string, terminal: Terminal) => (holder: string, staleS: number) =>
  terminal.err(
    `Waiting for ${holder}, which is writing into ${out}; where it gives no sign of life for ${staleS} s, its lock is taken over.\n`,
  );
