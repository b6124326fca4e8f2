import { expect, test } from 'vitest';
import { svgOf } from '../svg-of.ts';

const SCHEMA = 'https://vega.github.io/schema/vega-lite/v6.json';
const labels = (...texts: readonly string[]) => ({
  $schema: SCHEMA,
  data: { values: texts.map((text, y) => ({ text, y })) },
  mark: { type: 'text', clip: true },
  encoding: { y: { field: 'y', type: 'quantitative', axis: null }, text: { field: 'text' } },
});
const text = { title: 'T', desc: 'D', idPrefix: 'p' };

test('text inside, title and description are escaped', async () => {
  const nasty = '</text><script>alert(1)</script>';
  const svg = await svgOf(labels(nasty), { title: nasty, desc: `"${nasty}&`, idPrefix: 'p' });
  expect(svg).not.toContain('<script');
  expect(svg.split('&lt;/text&gt;&lt;script&gt;')).toHaveLength(4);
});

test('text that looks like an attribute stays as it is', async () => {
  const svg = await svgOf(labels(' id="x" class="y" d="1.23456" url(#z)'), text);
  expect(svg).toContain('id="x" class="y" d="1.23456" url(#z)');
});

test('title and description name the picture, and what is inside has no role of its own', async () => {
  const svg = await svgOf(labels('a'), { title: 'Voltage', desc: 'Falls from 12.6 to 12.1 V', idPrefix: 'one' });
  expect(svg).toMatch(/^<svg [^>]*role="img" aria-labelledby="one-title one-desc"/);
  expect(svg).toContain('<title id="one-title">Voltage</title><desc id="one-desc">Falls from 12.6 to 12.1 V</desc>');
  expect(svg.match(/role=|aria-/g)).toHaveLength(2);
});

test('ids carry the prefix, and so does what points at them', async () => {
  const svg = await svgOf(labels('a'), { ...text, idPrefix: 'mine' });
  const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(ids.length).toBeGreaterThan(2);
  for (const id of ids) expect(id).toMatch(/^mine-/);
  for (const [, id] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(id);
});

test('drawings asked for at once are those drawn alone', async () => {
  const alone = [await svgOf(labels('a'), text), await svgOf(labels('b', 'c'), text)];
  expect(await Promise.all([svgOf(labels('a'), text), svgOf(labels('b', 'c'), text)])).toEqual(alone);
});

test.each(['package.json', 'file:///etc/passwd', 'http://127.0.0.1:1/x.json'])(
  'a spec may not load %s',
  async (url) => {
    const heard: string[] = [];
    const svg = await svgOf({ ...labels(), data: { url } }, text, (message) => heard.push(message));
    expect(heard.join()).toMatch(/Loading failed/);
    expect(svg).not.toContain('<text');
  },
);

test('a spec with a mistake is complained about, and does not block the next', async () => {
  const heard: string[] = [];
  await svgOf({ ...labels('a'), encoding: { wide: { field: 'y' } } }, text, (message) => heard.push(message));
  expect(heard.join()).toContain('wide');
  await expect(svgOf({ $schema: SCHEMA, mark: 7 }, text)).rejects.toThrow();
  expect(await svgOf(labels('a'), text)).toContain('>a</text>');
});

test('a narrow picture gets the width of the page', async () => {
  const svg = await svgOf(labels('a'), { ...text, widthPx: 720 });
  expect(svg).toMatch(/ width="720" height="\d+" viewBox="0 0 720 \d+"/);
});
