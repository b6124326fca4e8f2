/** `standstill checks`: every check with its question, needs, default limits and their sources. */
import { writeFile } from 'node:fs/promises';
import { notWritten } from '../base/disk/not-written.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { checkList, renderCheckList } from '../report/page/check-list.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import type { Terminal } from './terminal.ts';
import { wrap } from './wrap.ts';

export interface ChecksOptions {
  readonly json: boolean;
  /** Where the list goes as a page. */
  readonly html?: string;
  /** English where not named. */
  readonly language?: string;
}

const LABEL = 9;

export async function checks(options: ChecksOptions, terminal: Terminal): Promise<0> {
  const content = loadContent(chooseLanguage({ asked: options.language, there: languagesThere() }));
  if (options.html !== undefined) {
    await writeFile(options.html, renderCheckList(content, 'a4')).catch((error: unknown) => {
      throw notWritten(options.html as string, error);
    });
    terminal.out(`${options.html}\n`);
    return 0;
  }
  const list = checkList(content);
  if (options.json) {
    terminal.out(`${JSON.stringify(list, null, 2)}\n`);
    return 0;
  }
  for (const { check, question, needs, limits } of list) {
    const rows: [string, string][] = [
      ['', question],
      ...(needs.length ? ([['needs', needs.join(', ')]] satisfies [string, string][]) : []),
      ...limits.map(({ text, applies, source }): [string, string] => [
        'limit',
        `${text}${applies ? ` (${applies})` : ''}: ${source}`,
      ]),
    ];
    const lines = rows.flatMap(([label, said]) => wrap(said, terminal.columns, `  ${label}`, label ? LABEL : 2));
    terminal.out(`${check}\n${lines.join('\n')}\n`);
  }
  return 0;
}
