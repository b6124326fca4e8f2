/** How a worker of the page answers what it was asked, and asks for others to help it. */
import { type Problem, UserError } from '../base/problem.ts';
import type { Given } from './files.ts';
import { checksumOf } from './hash.ts';

/** What is done at the other end of a port. */
export type Helping =
  /** Of what comes through the port. */
  | { readonly kind: 'hash'; readonly port: MessagePort }
  | { readonly kind: 'read'; readonly port: MessagePort; readonly given: readonly Given[] };

export type Answer =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number }
  /** The worker cannot start another: its page does. */
  | { readonly kind: 'help'; readonly asked: Helping }
  /** Another program is writing into the archive. */
  | { readonly kind: 'waiting' }
  | { readonly kind: 'done'; readonly value: unknown }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] }
  | { readonly kind: 'bug'; readonly message: string };

export const send = (answer: Answer, ...moved: readonly Transferable[]): void =>
  postMessage(answer, { transfer: [...moved] });

export const help = (asked: Helping): void => send({ kind: 'help', asked }, asked.port);

/** Of large files in a worker of its own. */
export const hashElsewhere = checksumOf((port) => help({ kind: 'hash', port }));

/** One after another; what was refused and what failed is told to the page. */
export function answerAll<Asked>(answer: (asked: Asked) => Promise<unknown>): void {
  addEventListener('message', async ({ data }: MessageEvent<Asked>) => {
    try {
      send({ kind: 'done', value: await answer(data) });
    } catch (error) {
      if (error instanceof UserError) send({ kind: 'refused', problems: error.problems });
      else send({ kind: 'bug', message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    }
  });
}
