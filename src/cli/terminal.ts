/** The terminal and the process, handed to every command so that tests can hand in their own. */
import { createInterface, type Interface } from 'node:readline';

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
  /**
   * Asks a person, and gives the line that was typed, or null at the end of input. Undefined where standard input is no
   * terminal: then nothing may be asked, so that no script hangs.
   */
  readonly ask?: (question: string) => Promise<string | null>;
  /** ms; only for progress, never for what is written. */
  now(): number;
}

export function processTerminal(): Terminal {
  for (const stream of [process.stdout, process.stderr]) stream.on('error', forgiveEnded);
  const live = process.stderr.isTTY === true;
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    live,
    colour: live && !process.env.NO_COLOR,
    columns: process.stderr.columns ?? 80,
    ask: process.stdin.isTTY === true ? makeAsker() : undefined,
    now: () => performance.now(),
  };
}

/** Whoever reads may stop before the end, as `head` does: the rest is missed by nobody, and the work goes on. */
function forgiveEnded(error: NodeJS.ErrnoException): void {
  if (error.code !== 'EPIPE' && error.code !== 'ERR_STREAM_DESTROYED') throw error;
}

/** Asks on standard error, so that standard output holds only what a script wants. Lines typed or pasted ahead answer the next questions. */
function makeAsker(): (question: string) => Promise<string | null> {
  const typed: (string | null)[] = [];
  let waiting: ((line: string | null) => void) | undefined;
  let lines: Interface | undefined;
  const take = (line: string | null) => {
    if (waiting) waiting(line);
    else typed.push(line);
    waiting = undefined;
  };
  return async (question) => {
    lines ??= createInterface({ input: process.stdin, output: process.stderr })
      .on('line', take)
      .on('close', () => take(null));
    const ahead = typed.shift();
    if (ahead !== undefined) {
      process.stderr.write(`${question}${ahead ?? ''}\n`);
      return ahead;
    }
    lines.setPrompt(question);
    lines.prompt();
    const line = await new Promise<string | null>((resolve) => {
      waiting = resolve;
    });
    // A terminal that is listened to would keep the process from ending.
    lines.pause();
    return line;
  };
}

/** The same terminal without progress and messages; errors are still told. */
export function quietened(terminal: Terminal): Terminal {
  return { ...terminal, live: false, colour: false };
}
