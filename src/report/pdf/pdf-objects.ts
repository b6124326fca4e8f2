/** A printed PDF as its objects, to be changed and laid down again. */
import { createHash } from 'node:crypto';

export interface PdfObjects {
  /** What stands between `obj` and `endobj`, one character a byte, by number from 1. */
  readonly bodies: Map<number, string>;
  /** Numbers of the catalog and of the document's own facts. */
  readonly root: number;
  readonly info: number;
}

/** Null where the PDF is not laid down as Chromium's writer does it: one plain cross-reference table, nothing encrypted. */
export function readPdf(pdf: Uint8Array): PdfObjects | null {
  const text = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString('latin1');
  const end =
    /trailer\s*<<\/Size (\d+)\s*\/Root (\d+) 0 R\s*\/Info (\d+) 0 R\s*(?:\/ID \[[^\]]*\]\s*)?>>\s*startxref\s+(\d+)\s+%%EOF\s*$/.exec(
      text,
    );
  if (!end) return null;
  const [size, root, info, table] = [Number(end[1]), Number(end[2]), Number(end[3]), Number(end[4])];
  const entries = [...text.slice(table).matchAll(/^(\d{10}) \d{5} ([nf])/gm)];
  if (entries.length !== size) return null;
  const bodies = new Map<number, string>();
  const objects = entries.flatMap(([, offset, kind], number) =>
    kind === 'n' ? [{ offset: Number(offset), number }] : [],
  );
  objects.sort((a, b) => a.offset - b.offset);
  for (const [k, { offset, number }] of objects.entries()) {
    const written = text.slice(offset, objects[k + 1]?.offset ?? table);
    const body = /^(\d+) 0 obj\n([\s\S]*)\nendobj\n$/.exec(written);
    if (Number(body?.[1]) !== number) return null;
    bodies.set(number, body?.[2] ?? '');
  }
  return /\/Type \/Catalog\b/.test(bodies.get(root) ?? '') && bodies.has(info) ? { bodies, root, info } : null;
}

/** PDF 1.7 (ISO 32000-1), which accessible PDF builds on. The same objects give the same bytes. */
export function writePdf({ bodies, root, info }: PdfObjects): Buffer {
  const head = latin('%PDF-1.7\n%\xd3\xeb\xe9\xe1\n');
  const parts = [head];
  let offset = head.length;
  const size = highest(bodies) + 1;
  const offsets = new Map<number, number>();
  const hash = createHash('md5');
  for (const [number, body] of [...bodies].sort(([a], [b]) => a - b)) {
    const written = latin(`${number} 0 obj\n${body}\nendobj\n`);
    offsets.set(number, offset);
    offset += written.length;
    hash.update(written);
    parts.push(written);
  }
  const entries = Array.from({ length: size }, (_, number) => {
    const at = offsets.get(number);
    return at === undefined ? '0000000000 65535 f \n' : `${String(at).padStart(10, '0')} 00000 n \n`;
  });
  const id = hash.digest('hex');
  parts.push(
    latin(
      `xref\n0 ${size}\n${entries.join('')}trailer\n<</Size ${size}\n/Root ${root} 0 R\n/Info ${info} 0 R\n/ID [<${id}> <${id}>]>>\nstartxref\n${offset}\n%%EOF\n`,
    ),
  );
  return Buffer.concat(parts);
}

function highest(bodies: ReadonlyMap<number, string>): number {
  let most = 0;
  for (const number of bodies.keys()) if (number > most) most = number;
  return most;
}

/** Adds an object; returns its number. */
export function addObject({ bodies }: PdfObjects, body: string): number {
  const number = highest(bodies) + 1;
  bodies.set(number, body);
  return number;
}

/** `keys` go before `/Length`. `data`: as it shall stand in the file. */
export function streamBody(keys: string, data: Buffer): string {
  return `<<${keys}${keys && ' '}/Length ${data.length}>> stream\n${data.toString('latin1')}\nendstream`;
}

/** A date as PDF writes it. @param ms since the epoch, UTC */
export function pdfDate(ms: number): string {
  return `(D:${new Date(ms).toISOString().replace(/\D/g, '').slice(0, 14)}+00'00')`;
}

/** A text as PDF holds it in any language. */
export function pdfText(text: string): string {
  return `<FEFF${Buffer.from(text, 'utf16le').swap16().toString('hex').toUpperCase()}>`;
}

/** What a text in an object says, written as `pdfText` or in brackets. */
export function textOf(written: string): string {
  const hex = /^<FEFF([0-9A-F]*)>$/i.exec(written)?.[1];
  if (hex !== undefined) return Buffer.from(hex, 'hex').swap16().toString('utf16le');
  return written.slice(1, -1).replaceAll(/\\([()\\])/g, '$1');
}

const latin = (text: string) => Buffer.from(text, 'latin1');
