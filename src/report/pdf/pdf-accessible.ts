/**
 * What a printed PDF still lacks to be read by everyone (ISO 14289-1, PDF/UA-1), and an account of itself for archives. The
 * browser tags text and pictures; here its decoration is marked as such, lists get their bodies, links their names, and the
 * document says in XMP (ISO 16684-1) what it is.
 */
import { deflateSync, inflateSync } from 'node:zlib';
import { there } from '../../base/there.ts';
import { marked, marksWithText } from './pdf-marks.ts';
import { addObject, type PdfObjects, pdfDate, pdfText, readPdf, streamBody, textOf, writePdf } from './pdf-objects.ts';

/**
 * Null where the PDF is not laid down as Chromium's writer does it; then nothing is claimed of it.
 *
 * @param html the page that was printed: what its links say is read from it
 * @param dateMs the document's date, ms since the epoch, UTC
 */
export function accessiblePdf(pdf: Uint8Array, html: string, dateMs: number): Buffer | null {
  const objects = readPdf(pdf);
  const catalog = objects?.bodies.get(objects.root);
  if (!objects || !catalog || /\/Metadata\b/.test(catalog) || !/\/StructTreeRoot\b/.test(catalog)) return null;
  if (!markDecoration(objects)) return null;
  for (const [number, body] of objects.bodies) if (isElement(body, ITEM)) giveBody(objects, number, body);
  nameLinks(objects, html);
  const written = objects.bodies.get(objects.info) ?? '';
  const about: About = {
    title: textOf(/\/Title (<[0-9A-F]*>|\((?:\\.|[^\\)])*\))/i.exec(written)?.[1] ?? '()'),
    language: /\/Lang \(([^)]*)\)/.exec(catalog)?.[1] ?? '',
    producer: /\/Producer \(([^)]*)\)/.exec(written)?.[1] ?? '',
    dateMs,
  };
  const xmp = addObject(objects, streamBody('/Type /Metadata /Subtype /XML', Buffer.from(xmpOf(about))));
  objects.bodies.set(objects.root, catalog.replace(/>>\s*$/, `\n/Metadata ${xmp} 0 R>>`));
  objects.bodies.set(objects.info, infoOf(about));
  return writePdf(objects);
}

/** Whether an object is an element of the structure, of one of the kinds. */
function isElement(body: string, kinds: ReadonlySet<string>): boolean {
  const kind = /^<<\/Type \/StructElem\s*\/S \/(\w+)/.exec(body)?.[1];
  return kind !== undefined && kinds.has(kind);
}

/** Elements that hold other elements alone; the browser puts their lines and backgrounds into them as content (14.8.4.3). */
const HOLDERS: ReadonlySet<string> = new Set(['Table', 'THead', 'TBody', 'TFoot', 'TR', 'L', 'LI']);
const ITEM: ReadonlySet<string> = new Set(['LI']);
const ITEM_PARTS: ReadonlySet<string> = new Set(['Lbl', 'LBody']);
const KID = /\d+ 0 R|<<[\s\S]*?>>|\d+/g;

/** Rewrites what the pages draw, so that all of it is marked; false where it is not as expected. */
function markDecoration({ bodies }: PdfObjects): boolean {
  const contents = new Map<number, number>();
  for (const [number, body] of bodies) {
    const stream = /^<<\/Type \/Page\b[\s\S]*\/Contents (\d+) 0 R/.exec(body)?.[1];
    if (stream) contents.set(number, Number(stream));
  }
  const pages = new Set(contents.values());
  const drawn = new Map<number, Drawing>();
  for (const [number, body] of bodies) {
    if (!pages.has(number) && !/^<<\/Type \/XObject\s*\/Subtype \/Form\b/.test(body)) continue;
    const drawing = drawingOf(body);
    if (!drawing) return false;
    // What a drawing within a page shows belongs to what it stands in, unless it has marks of its own.
    if (pages.has(number) || /\/MCID\b/.test(drawing.text)) drawn.set(number, drawing);
  }
  const decoration = takeDecoration(bodies, contents, drawn);
  // Chromium's writer calls a drawing by the number of its object.
  const isTagged = (name: string) => drawn.has(Number(name.slice(1)));
  for (const [number, { keys, text }] of drawn) {
    const written = marked(text, decoration.get(number) ?? new Set(), isTagged);
    if (written === null) return false;
    bodies.set(number, streamBody(keys, deflateSync(Buffer.from(written, 'latin1'))));
  }
  return true;
}

interface Drawing {
  /** Of the stream, without its length. */
  readonly keys: string;
  readonly text: string;
}

function drawingOf(body: string): Drawing | null {
  const [, keys = '', data] = /^<<([\s\S]*?)>> stream\n([\s\S]*)\nendstream$/.exec(body) ?? [];
  if (data === undefined || !keys.includes('/Filter /FlateDecode')) return null;
  const text = inflateSync(Buffer.from(data, 'latin1')).toString('latin1');
  return { keys: keys.replace(/\s*\/Length \d+/, ''), text };
}

/** Takes marks without text out of elements that hold others; returns them by the drawing in which they stand. */
function takeDecoration(
  bodies: Map<number, string>,
  contents: ReadonlyMap<number, number>,
  drawn: ReadonlyMap<number, Drawing>,
): Map<number, Set<number>> {
  const taken = new Map([...drawn.keys()].map((number) => [number, new Set<number>()]));
  const withText = new Map([...drawn].map(([number, { text }]) => [number, marksWithText(text)]));
  for (const [number, body] of bodies) {
    const all = isElement(body, HOLDERS) ? /\/K (\[[^\]]*\]|\d+ 0 R|\d+)/.exec(body) : null;
    if (!all) continue;
    const page = (text: string) => contents.get(Number(/\/Pg (\d+) 0 R/.exec(text)?.[1])) ?? -1;
    const rest = (all[1]?.match(KID) ?? []).filter((kid) => {
      const isMark = /^\d+$/.test(kid);
      const mark = Number(isMark ? kid : (/\/MCID (\d+)/.exec(kid)?.[1] ?? Number.NaN));
      const stream =
        isMark || !kid.includes('/Pg') ? Number(/\/Stm (\d+) 0 R/.exec(kid)?.[1] ?? page(body)) : page(kid);
      if (Number.isNaN(mark) || !taken.has(stream) || withText.get(stream)?.has(mark)) return true;
      taken.get(stream)?.add(mark);
      return false;
    });
    bodies.set(number, body.replace(all[0], `/K [${rest.join(' ')}]`));
  }
  return taken;
}

/** A list's item holds a label and a body (14.8.4.3.3); the browser writes no bodies. */
function giveBody(objects: PdfObjects, number: number, body: string): void {
  const all = /\/K (\[[^\]]*\]|\d+ 0 R)/.exec(body);
  const kids = all?.[1]?.match(/\d+ 0 R/g) ?? [];
  const bodyOf = (kid: string) => objects.bodies.get(Number.parseInt(kid, 10)) ?? '';
  const inner = kids.filter((kid) => !isElement(bodyOf(kid), ITEM_PARTS));
  if (!all || inner.length === 0) return;
  const made = addObject(objects, `<</Type /StructElem\n/S /LBody\n/P ${number} 0 R\n/K [${inner.join(' ')}]>>`);
  for (const kid of inner)
    objects.bodies.set(Number.parseInt(kid, 10), bodyOf(kid).replace(/\/P \d+ 0 R/, `/P ${made} 0 R`));
  const labels = kids.filter((kid) => !inner.includes(kid));
  objects.bodies.set(number, body.replace(all[0], `/K [${[...labels, `${made} 0 R`].join(' ')}]`));
}

/** Each link says in words where it leads (7.18.5): what it says on the page. */
function nameLinks({ bodies }: PdfObjects, html: string): void {
  const said = new Map<string, string>();
  for (const [, target = '', text = ''] of html.matchAll(/<a [^>]*href="#([^"]+)"[^>]*>([\s\S]*?)<\/a>/g)) {
    const plain = plainOf(text);
    if (plain !== '' && !said.has(target)) said.set(target, plain);
  }
  for (const [number, body] of bodies) {
    if (!/^<<\/Type \/Annot\s*\/Subtype \/Link\b/.test(body) || /\/Contents\b/.test(body)) continue;
    const target = /\/Dest \/(\S+)/.exec(body)?.[1] ?? '';
    bodies.set(number, body.replace(/>>\s*$/, `\n/Contents ${pdfText(said.get(target) ?? target)}>>`));
  }
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

/** Text of a piece of our own HTML. */
function plainOf(html: string): string {
  return html
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll(/&(?:(amp|lt|gt|quot)|#x([0-9A-F]+));/gi, (_, name: string, hex: string) =>
      name ? there(ENTITIES[name]) : String.fromCodePoint(Number.parseInt(hex, 16)),
    )
    .replaceAll(/\s+/g, ' ')
    .trim();
}

interface About {
  readonly title: string;
  readonly language: string;
  readonly producer: string;
  readonly dateMs: number;
}

const CREATOR = 'Standstill';

function infoOf({ title, producer, dateMs }: About): string {
  const date = pdfDate(dateMs);
  return `<</Title ${pdfText(title)}\n/Creator (${CREATOR})\n/Producer (${producer})\n/CreationDate ${date}\n/ModDate ${date}>>`;
}

/** The same facts for archives, and that the document is meant to be accessible. */
function xmpOf({ title, language, producer, dateMs }: About): string {
  const date = `${new Date(dateMs).toISOString().slice(0, 19)}Z`;
  const xml = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
  return `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">${xml(title)}</rdf:li></rdf:Alt></dc:title>
<dc:language><rdf:Bag><rdf:li>${xml(language)}</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>${CREATOR}</xmp:CreatorTool>
<xmp:CreateDate>${date}</xmp:CreateDate>
<xmp:ModifyDate>${date}</xmp:ModifyDate>
<xmp:MetadataDate>${date}</xmp:MetadataDate>
<pdf:Producer>${xml(producer)}</pdf:Producer>
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`;
}
