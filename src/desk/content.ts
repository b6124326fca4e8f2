/** Words, pages and letters as the page holds them. */
import { type Content, makeContent } from '../report/words/content.ts';
import { DATA } from './data.ts';

const known = new Map<string, Content>();

export function contentOf(language: string): Content {
  const there = known.get(language);
  if (there) return there;
  const content = makeContent(language, {
    words: [{ name: 'content', text: (path) => DATA.words[path] }],
    templates: [{ name: 'templates', text: (path) => DATA.templates[path] }],
    font: (file) => DATA.fonts[file],
  });
  known.set(language, content);
  return content;
}
