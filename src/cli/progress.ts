/** One line that says how far a session is and what remains. Written to a terminal only. */
import type { Terminal } from './terminal.ts';

const BAR = 24;
/** A line is rewritten at most this often, ms. */
const EVERY_MS = 100;

export interface Progress {
  bytes(done: number, total: number): void;
  say(what: string): void;
  clear(): void;
}

export function createProgress(terminal: Terminal, name: string): Progress {
  if (!terminal.live) return { bytes: () => {}, say: () => {}, clear: () => {} };
  const began = terminal.now();
  let shown = Number.NEGATIVE_INFINITY;
  const line = (text: string) => terminal.err(`\r\u001b[2K${text.slice(0, terminal.columns - 1)}`);
  return {
    bytes(done, total) {
      const now = terminal.now();
      if (now - shown < EVERY_MS || total <= 0) return;
      shown = now;
      const share = Math.min(1, done / total);
      const full = Math.round(share * BAR);
      const remains = share > 0.02 ? ` about ${remaining(((now - began) * (1 - share)) / share)} left` : '';
      line(`${name}  [${'#'.repeat(full)}${'.'.repeat(BAR - full)}] ${Math.floor(share * 100)} %${remains}`);
    },
    say(what) {
      line(`${name}  ${what}`);
    },
    clear() {
      terminal.err('\r\u001b[2K');
    },
  };
}

function remaining(ms: number): string {
  const seconds = Math.ceil(ms / 1000);
  return seconds < 90 ? `${seconds} s` : `${Math.round(seconds / 60)} min`;
}
