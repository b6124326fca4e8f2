/** Puts a file into a printed PDF, so that the paper's data travel with it. */
import { createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';
import { addObject, pdfDate, readPdf, streamBody, writePdf } from './pdf-objects.ts';

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
 * The PDF with the file embedded (ISO 32000-1, 7.11.4): every object stays as it was but the catalog, which names the file.
 * `AFRelationship` says that it is the data behind the document (ISO 32000-2, 14.13), as archives ask. The same PDF and
 * file give the same bytes.
 *
 * Null where the PDF is not laid down as `readPdf` takes it, or has files already.
 */
export function attachFile(pdf: Uint8Array, file: Attachment): Buffer | null {
  const objects = readPdf(pdf);
  const catalog = objects?.bodies.get(objects.root);
  if (!objects || !catalog || /\/(Names|AF)\b/.test(catalog)) return null;
  const digest = createHash('md5').update(file.data).digest('hex');
  const params = `/Size ${file.data.length} /CheckSum <${digest}> /ModDate ${pdfDate(file.dateMs)}`;
  const keys = `/Type /EmbeddedFile /Subtype /${file.type.replace('/', '#2F')} /Filter /FlateDecode /Params <<${params}>>`;
  const stream = addObject(objects, streamBody(keys, deflateSync(file.data)));
  const spec = addObject(
    objects,
    `<</Type /Filespec /F (${file.name}) /UF (${file.name}) /Desc (${file.description}) /AFRelationship /Data /EF <</F ${stream} 0 R /UF ${stream} 0 R>>>>`,
  );
  const names = `/Names <</EmbeddedFiles <</Names [(${file.name}) ${spec} 0 R]>>>>\n/AF [${spec} 0 R]`;
  objects.bodies.set(objects.root, catalog.replace(/>>\s*$/, `\n${names}>>`));
  return writePdf(objects);
}
