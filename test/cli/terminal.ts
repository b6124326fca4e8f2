/** A terminal that remembers what it was told. */
import type { Terminal } from '../../src/cli/terminal.ts';

export function recordingTerminal(): {
  readonly terminal: Terminal;
  said(): { readonly out: string; readonly err: string };
} {
  const told: string[] = [];
  const warned: string[] = [];
  const terminal: Terminal = {
    out: (text) => void told.push(text),
    err: (text) => void warned.push(text),
    live: false,
    colour: false,
    columns: 80,
    now: () => performance.now(),
  };
  return { terminal, said: () => ({ out: told.join(''), err: warned.join('') }) };
}
