/** Pages from templates. Each is compiled once, since an archive has many pages of one kind. */
import { UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import { there } from '../../base/there.ts';
import { filled } from '../../charts/drawing/words.ts';
import { addPartial, compileWith, type Engine, Handlebars, PAGE } from '../words/compile.ts';
import type { Content } from '../words/content.ts';

const compiled = new Map<string, Handlebars.TemplateDelegate>();

/**
 * `templates/<name>`, to be filled: `t` gives labels, `prose` plain text as paragraphs, `is` tells whether two are the same;
 * everything else is escaped. Throws a `UserError` where a template or a label is missing.
 */
export function pageTemplate(
  content: Content,
  name: string,
  partials: readonly string[] = [],
): (view: object) => string {
  const texts = partials.map((one) => [one, content.template(`partials/${one}.hbs`)] as const);
  const source = content.template(name);
  const key = JSON.stringify([source, texts]);
  const known = compiled.get(key) ?? compileWith(engineWith(texts), source, PAGE);
  compiled.set(key, known);
  return (view) => {
    try {
      return known(view, { data: { label: content.label } });
    } catch (error) {
      throw templateFault(error, [
        [name, source],
        ...texts.map(([one, text]) => [`partials/${one}.hbs`, text] as const),
      ]);
    }
  };
}

/** What is wrong with a template is told by the file's name; it is parsed when it is first filled, or made ready for the desk. */
export function templateFault(error: unknown, files: readonly (readonly [file: string, text: string])[]): unknown {
  if (error instanceof UserError || !(error instanceof Error)) return error;
  for (const [file, text] of files) {
    try {
      Handlebars.parse(text);
    } catch (fault) {
      const [, line] = /on line (\d+)/.exec(String(fault)) ?? [];
      const message = `This template cannot be read: ${plainText(error.message.split('\n').slice(1, 2).join('').trim() || error.message)}`;
      return new UserError([{ file: `templates/${file}`, line: line ? Number(line) : undefined, message }]);
    }
  }
  // Helpers and partials that are not there.
  if (!(error instanceof Handlebars.Exception) && !/^The partial /.test(error.message)) return error;
  return new UserError([
    { file: `templates/${there(files[0])[0]}`, message: `This template cannot be filled: ${error.message}` },
  ]);
}

function engineWith(partials: readonly (readonly [name: string, text: string])[]): Engine {
  const own = Handlebars.create();
  // A label's key may be built of parts: {{t "status" status}}; what the label leaves open is named: {{t "said" text=x}}.
  own.registerHelper('t', (...parts: unknown[]) => {
    const { hash, data } = parts.pop() as Handlebars.HelperOptions;
    const label = (data.label as Content['label'])(parts.join('.'));
    return Object.keys(hash).length > 0 ? filled(label, hash) : label;
  });
  own.registerHelper('prose', (text: string) => new Handlebars.SafeString(paragraphs(text)));
  own.registerHelper('is', (a: unknown, b: unknown) => a === b);
  for (const [name, text] of partials) addPartial(own, name, text);
  return own;
}

/** Paragraphs and lists of a plain text, escaped: an empty line parts paragraphs, lines that begin with `- ` are a list. */
export function paragraphs(text: string): string {
  const safe = Handlebars.Utils.escapeExpression;
  return text
    .split('\n\n')
    .filter((block) => block.trim() !== '')
    .map((block) => {
      const lines = block.split('\n');
      if (!lines.every((line) => line.startsWith('- '))) return `<p>${safe(block)}</p>`;
      return `<ul>${lines.map((line) => `<li>${safe(line.slice(2))}</li>`).join('')}</ul>`;
    })
    .join('');
}
