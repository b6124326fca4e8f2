/**
 * Handlebars, as the rooms use it. The desk, whose policy forbids code made from text, brings its templates compiled:
 * `desk/compiled.ts` stands in for this file there.
 */
import Handlebars from 'handlebars';

export { Handlebars };

export type Engine = typeof Handlebars;

/** How the two kinds of templates are compiled: prose is Markdown, which is made safe elsewhere, and may lack no name. */
export const PROSE = { noEscape: true, strict: true } as const;
export const PAGE = {} as const;

export function compileWith(engine: Engine, source: string, how: CompileOptions): Handlebars.TemplateDelegate {
  return engine.compile(source, how);
}

export function addPartial(engine: Engine, name: string, source: string): void {
  engine.registerPartial(name, source);
}
