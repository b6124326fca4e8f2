/** Time as it passes until somebody stops the process: what is being written is finished first. */
import { setTimeout as wait } from 'node:timers/promises';
import type { Terminal } from './terminal.ts';
import type { WatchWorld } from './watch.ts';

/** Listens for Ctrl+C and for the system's request to end; a second one ends at once. */
export function untilStopped(terminal: Terminal): WatchWorld {
  const stop = new AbortController();
  const onSignal = (name: NodeJS.Signals) => {
    if (stop.signal.aborted) {
      process.off(name, onSignal);
      process.kill(process.pid, name);
    }
    stop.abort();
  };
  for (const name of ['SIGINT', 'SIGTERM'] as const) process.on(name, onSignal);
  const { signal } = stop;
  return {
    signal,
    now: terminal.now,
    sleep: (ms) => wait(ms, undefined, { signal }).catch(() => {}),
  };
}
