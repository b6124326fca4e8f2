/** Stands in for `report/words/compile.ts` in the page: templates come compiled, and are found by the hash of their text. */
import type Whole from 'handlebars';
import runtime from 'handlebars/runtime.js';
import { formName } from '../report/words/form-name.ts';
import { formOf } from './data.ts';

export type Engine = typeof Whole;
/** Its templates have been parsed long before: none is at fault. */
export const Handlebars = Object.assign(runtime, { parse: () => null }) as unknown as Engine;

export const PROSE = 'prose';
export const PAGE = 'page';

export function compileWith(
  engine: Engine,
  source: string,
  how: typeof PROSE | typeof PAGE,
): ReturnType<Engine['template']> {
  const found = formOf(formName(how, source));
  if (found === undefined) throw new Error(`a template was not compiled beforehand: ${source.slice(0, 80)}`);
  return engine.template(found as TemplateSpecification);
}

export function addPartial(engine: Engine, name: string, source: string): void {
  engine.registerPartial(name, compileWith(engine, source, PAGE));
}
