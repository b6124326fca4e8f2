/** `standstill checks`: every check with its question, default limits and their sources. */
import { CHECKS } from '../checks/registry.ts';
import { loadContent } from '../report/content.ts';
import { readSections, toText } from '../report/prose.ts';
import type { Terminal } from './terminal.ts';

export function checks(options: { readonly json: boolean }, terminal: Terminal): 0 {
  const content = loadContent('en');
  const list = CHECKS.map((check) => {
    const path = `checks/${check.id}.md`;
    const { source } = readSections(path, content.text(path));
    return { check: check.id, question: toText(source), needs: check.needs, limits: check.limits };
  });
  if (options.json) {
    terminal.out(`${JSON.stringify(list, null, 2)}\n`);
    return 0;
  }
  for (const { check, question, needs, limits } of list) {
    terminal.out(`${check}\n  ${question}\n`);
    if (needs.length) terminal.out(`  needs: ${needs.join(', ')}\n`);
    for (const limit of limits) {
      const unit = limit.unit === '1' ? '' : ` ${limit.unit}`;
      terminal.out(`  limit: ${limit.value}${unit}${limit.applies ? ` (${limit.applies})` : ''}: ${limit.source}\n`);
    }
  }
  return 0;
}
