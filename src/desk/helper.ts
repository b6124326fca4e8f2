/**
 * The program of a worker that helps another. It has a script of its own, because the page's takes more than a second to start, and a
 * log of 29 million rows has two such helpers.
 */
import { answerAll, type Helping, hashElsewhere } from './answer.ts';
import { answerHashes } from './hash.ts';
import { ioOf } from './log-io.ts';
import { answerReader } from './log-reader.ts';

answerAll<Helping>((asked) =>
  asked.kind === 'hash'
    ? answerHashes(asked.port)
    : answerReader(asked.port, (mayReadOn) => ioOf(asked.given, hashElsewhere, mayReadOn)),
);
