/** The terminal and the process, handed to every command so that tests can hand in their own. */
export interface Terminal {
  /** What a script wants. */
  out(text: string): void;
  /** What a person wants to be told: messages, progress. */
  err(text: string): void;
  /** True where standard error is a terminal, and lines may be rewritten. */
  readonly live: boolean;
  /** False where `NO_COLOR` is set or standard error is no terminal. */
  readonly colour: boolean;
  /** Width of the terminal in characters. */
  readonly columns: number;
  /** ms; only for progress, never for what is written. */
  now(): number;
}

export function processTerminal(): Terminal {
  const live = process.stderr.isTTY === true;
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    live,
    colour: live && !process.env.NO_COLOR,
    columns: process.stderr.columns ?? 80,
    now: () => performance.now(),
  };
}

/** The same terminal without progress and messages; errors are still told. */
export function quietened(terminal: Terminal): Terminal {
  return { ...terminal, live: false, colour: false };
}
