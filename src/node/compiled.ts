/**
 * Stands in for `report/words/compile.ts` in the packed program: what `npm run compile` compiled beforehand is found by the
 * hash of its text, as in the desk. A shop's own templates and words, and ours where they were changed since, are compiled
 * when they are needed: for all of them that would be a tenth of a build.
 */
import { readFileSync } from 'node:fs';
import * as text from '../report/words/compile.ts';
import { formName } from '../report/words/form-name.ts';
import { PROJECT } from './project.ts';

export { type Engine, Handlebars, PAGE, PROSE } from '../report/words/compile.ts';

export const compileWith: typeof text.compileWith = (engine, source, how) => {
  const form = forms().get(formName(how === text.PROSE ? 'prose' : 'page', source));
  return form === undefined ? text.compileWith(engine, source, how) : engine.template(new Function(`return ${form}`)());
};

export function addPartial(engine: text.Engine, name: string, source: string): void {
  engine.registerPartial(name, compileWith(engine, source, text.PAGE));
}

let known: ReadonlyMap<string, string> | null = null;

/** The text of each form, by its kind and the hash of what it was made from; none where the file is not there. */
function forms(): ReadonlyMap<string, string> {
  known ??= formsIn(readForms());
  return known;
}

/** The object's own text, cut at the names: only what is used is read as a program. */
function formsIn(object: string): ReadonlyMap<string, string> {
  const found: { name: string; from: number; head: number }[] = [];
  for (let at = object.indexOf('"p'); at >= 0; at = object.indexOf('\n"p', at + 1)) {
    NAME.lastIndex = at;
    const [head = '', name] = NAME.exec(object) ?? [];
    if (name !== undefined) found.push({ name, from: at + head.length, head: at });
  }
  const end = object.lastIndexOf('}');
  return new Map(found.map(({ name, from }, k) => [name, object.slice(from, (found[k + 1]?.head ?? end + 1) - 1)]));
}

const NAME = /\n?"((?:page|prose) [0-9a-f]{64})":/y;

function readForms(): string {
  try {
    // Plain signs alone, as it was packed: so it is read in a moment.
    return readFileSync(new URL('.build/desk/forms.js', PROJECT), 'latin1');
  } catch {
    return '';
  }
}
