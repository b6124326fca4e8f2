/** A terminal that keeps what is said to it. */
import type { Terminal } from '../../src/cli/terminal.ts';

export interface RecordingTerminal extends Terminal {
  readonly said: { out: string; err: string };
  readonly asked: string[];
}

/** @param answers what is typed to each question in turn; left out: standard input is no terminal. Past its end: end of input. */
export function recordingTerminal(answers?: readonly string[]): RecordingTerminal {
  const said = { out: '', err: '' };
  const keep = (where: 'out' | 'err') => (text: string) => {
    said[where] += text;
  };
  const asked: string[] = [];
  return {
    said,
    asked,
    out: keep('out'),
    err: keep('err'),
    live: false,
    colour: false,
    columns: 100,
    now: () => 0,
    ask:
      answers &&
      (async (question) => {
        asked.push(question);
        return answers[asked.length - 1] ?? null;
      }),
  };
}
