/** Asks a check and renders everything that its prose says of the answer, as the report does. */
import { expect } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { zoneOf } from '../../src/base/zone.ts';
import { type Check, type Finding, NOT_ASKED } from '../../src/checks/check.ts';
import { runChecks } from '../../src/checks/run.ts';
import type { Session } from '../../src/manifest/session.ts';
import { loadContent } from '../../src/node/content.ts';
import { makeFormat } from '../../src/report/words/format.ts';
import { wordFinding } from '../../src/report/words/wording.ts';

const format = makeFormat('en-IE', zoneOf('UTC'));
const content = loadContent('en');

/** The finding; its words must be whole, and its title short enough for one line. */
export function answerOf(check: Check, analysis: Analysis, session: Session): Finding {
  const [finding] = runChecks(analysis, session, [check]);
  expect(finding.reason, String(finding.facts?.cause)).not.toBe('check-failed');
  const words = wordFinding(finding, content, format);
  const texts = [words.title, words.plain, words.detail, words.reason ?? '', ...words.steps.map((step) => step.text)];
  for (const text of texts) expect(text).not.toMatch(/NaN|Infinity|undefined|not known|\{\{/);
  if (finding.status !== 'undecided') expect(words.detail).not.toBe('');
  // What nobody asked for lacks nothing that a step could bring.
  const asked = finding.reason === undefined || !NOT_ASKED.includes(finding.reason);
  if (finding.status !== 'clear' && asked) expect(words.steps.length).toBeGreaterThan(0);
  expect(words.title.length).toBeLessThan(90);
  return finding;
}
