/**
 * The program of a worker that helps another. It has a script of its own, because the page's takes more than a second to start, and a
 * log of 29 million rows has two such helpers.
 */
import { answerAll, hashElsewhere } from './answer.ts';
import type { Given } from './files.ts';
import { answerHashes } from './hash.ts';
import { ioOf } from './log-io.ts';
import { answerReader } from './log-reader.ts';

/** What is done at the other end of a port. */
export type Helping =
  /** Of what comes through the port. */
  | { readonly kind: 'hash'; readonly port: MessagePort }
  | { readonly kind: 'read'; readonly port: MessagePort; readonly given: readonly Given[] };

answerAll<Helping>((asked) =>
  asked.kind === 'hash'
    ? answerHashes(asked.port)
    : answerReader(asked.port, (mayReadOn) => ioOf(asked.given, hashElsewhere, mayReadOn)),
);
