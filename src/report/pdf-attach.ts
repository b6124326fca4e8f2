/** Puts a file into a printed PDF, so that the paper's data travel with it. */
import { createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';

export interface Attachment {
  /** ASCII file name without brackets or backslashes. */
  readonly name: string;
  /** ASCII, a short line of what it is. */
  readonly description: string;
  readonly type: 'application/json';
  readonly data: Uint8Array;
  /** Milliseconds since 1970, UTC. */
  readonly dateMs: number;
}

/**
 * Appends the file as an incremental update (ISO 32000-1, 7.5.6 and 7.11.4): the printed bytes, tags included, stay as they
 * are, and only the catalog is written anew with a list of embedded files. `AFRelationship` says that it is the data
 * behind the document (ISO 32000-2, 14.13), as archives ask. The same PDF and file give the same bytes.
 *
 * Null where the PDF is not laid down as Chromium's writer does it: plain cross-reference table, catalog without names.
 */
export function attachFile(pdf: Uint8Array, file: Attachment): Buffer | null {
  const bytes = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const text = bytes.toString('latin1');
  const end =
    /trailer\s*<<\/Size (\d+)\s*\/Root (\d+) 0 R\s*\/Info (\d+) 0 R\s*>>\s*startxref\s+(\d+)\s+%%EOF\s*$/.exec(text);
  if (!end) return null;
  const [size, root, info, previous] = end.slice(1).map(Number);
  const start = text.lastIndexOf(`\n${root} 0 obj`) + 1;
  const catalog = /^\d+ 0 obj\s*<<([\s\S]*?)>>\s*endobj/.exec(text.slice(start))?.[1];
  if (start === 0 || !catalog?.includes('/Type /Catalog') || /\/(Names|AF)\b/.test(catalog)) return null;

  const [stream, spec] = [size, size + 1];
  const date = `(D:${new Date(file.dateMs).toISOString().replace(/\D/g, '').slice(0, 14)}+00'00')`;
  const packed = deflateSync(file.data);
  const params = `/Size ${file.data.length} /CheckSum <${createHash('md5').update(file.data).digest('hex')}> /ModDate ${date}`;
  const objects: [number, Buffer][] = [
    [
      stream,
      Buffer.concat([
        latin(
          `<</Type /EmbeddedFile /Subtype /${file.type.replace('/', '#2F')} /Filter /FlateDecode /Length ${packed.length} /Params <<${params}>>>> stream\n`,
        ),
        packed,
        latin('\nendstream'),
      ]),
    ],
    [
      spec,
      latin(
        `<</Type /Filespec /F (${file.name}) /UF (${file.name}) /Desc (${file.description}) /AFRelationship /Data /EF <</F ${stream} 0 R /UF ${stream} 0 R>>>>`,
      ),
    ],
    [
      root,
      latin(`<<${catalog}\n/Names <</EmbeddedFiles <</Names [(${file.name}) ${spec} 0 R]>>>>\n/AF [${spec} 0 R]>>`),
    ],
  ];
  return Buffer.concat([bytes, ...appended(objects, bytes.length, { size: size + 2, root, info, previous })]);
}

/** The objects, and a cross-reference section that leads to them and back to the earlier one. */
function appended(
  objects: readonly (readonly [number, Buffer])[],
  lengthBefore: number,
  trailer: Readonly<Record<'size' | 'root' | 'info' | 'previous', number>>,
): Buffer[] {
  const parts = [latin('\n')];
  let offset = lengthBefore + 1;
  const sections: string[] = [];
  for (const [number, body] of objects) {
    const written = Buffer.concat([latin(`${number} 0 obj\n`), body, latin('\nendobj\n')]);
    sections.push(`${number} 1\n${String(offset).padStart(10, '0')} 00000 n \n`);
    parts.push(written);
    offset += written.length;
  }
  const { size, root, info, previous } = trailer;
  parts.push(
    latin(
      `xref\n${sections.join('')}trailer\n<</Size ${size}\n/Root ${root} 0 R\n/Info ${info} 0 R\n/Prev ${previous}>>\nstartxref\n${offset}\n%%EOF\n`,
    ),
  );
  return parts;
}

const latin = (text: string) => Buffer.from(text, 'latin1');
