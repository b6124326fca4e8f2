/**
 * What PDFs are called beside the archive's own `report.pdf`: names that can be told apart in a mail, by a pattern of the
 * shop's. They are safe as file names on every system, whatever a registration or a title holds.
 */
import { shown } from '../../base/shown.ts';
import { zoneOf } from '../../base/zone.ts';
import { isDeviceName } from '../../manifest/device-name.ts';
import type { Session } from '../../manifest/session.ts';

export const WHOLE_PDF = 'report.pdf';
export const CUSTOMER_PDF = 'customer.pdf';
const PLACES = ['registration', 'date', 'id', 'repair_order', 'vehicle', 'title', 'purpose'] as const;
/** With its ending: what mail programs and old file systems still take, with a long path before it. */
const MOST_SIGNS = 120;

/** What is wrong with a pattern, or undefined where nothing is. */
export function patternFault(pattern: string): string | undefined {
  const expected = `Expected: a file's name with ${PLACES.map((place) => `{${place}}`).join(', ')} in it, such as "{registration}_{date}_{id}.pdf".`;
  const named = [...pattern.matchAll(/\{([^{}]*)\}/g)].map(([, name]) => name);
  const unknown = named.find((name) => !PLACES.some((place) => place === name));
  if (unknown !== undefined) return `Found {${shown(unknown).slice(1, -1)}}. ${expected}`;
  const rest = pattern.replaceAll(/\{[^{}]*\}/g, '');
  return named.length === 0 || /[{}<>:"/\\|?*\p{Cc}]/u.test(rest) ? `Found ${shown(pattern)}. ${expected}` : undefined;
}

/** What a name is made of. */
export type Named = Pick<Session, 'id' | 'title' | 'purpose' | 'repairOrder' | 'vehicle' | 'timezone'>;

/**
 * The name that `pattern` gives, with its ending. What is not known leaves its place, and the sign beside it, out; the id
 * stands in where nothing is left.
 *
 * @param startMs ms since the epoch; its local day is the date
 */
export function pdfName(pattern: string, session: Named, startMs: number, part = ''): string {
  const { id, title, purpose, repairOrder, vehicle, timezone } = session;
  const date = new Date(startMs + zoneOf(timezone).offsetMs(startMs)).toISOString().slice(0, 10);
  const { registration, description } = vehicle;
  const known: Readonly<Record<string, string | undefined>> = {
    registration,
    date,
    id,
    repair_order: repairOrder,
    vehicle: description,
    title,
    purpose,
  };
  const filled = pattern
    .replace(/\.pdf$/i, '')
    // With the separator after it, or the text ends in one.
    .replaceAll(/\{([a-z_]+)\}([-_ .]*)/g, (_, place: string, after: string) => {
      const word = safe(known[place] ?? '');
      return word === '' ? '' : `${word}${after}`;
    });
  const whole = safe(`${filled}${part && `_${part}`}`).slice(0, MOST_SIGNS);
  const name = safe(whole) || id;
  return `${isDeviceName(name) ? `_${name}` : name}.pdf`;
}

/** Letters and digits of any script stay; what a system takes for its own becomes a hyphen. */
function safe(text: string): string {
  return text
    .normalize('NFC')
    .replaceAll(/[^\p{L}\p{M}\p{N}_.,+()-]+/gu, '-')
    .replaceAll(/\.{2,}/g, '.')
    .replaceAll(/^[-_. ]+|[-_. ]+$/g, '');
}

/** Which PDFs a report has beside it. */
export interface PdfWish {
  readonly customer: boolean;
  /** Of the names for a mail; undefined: none are wanted. */
  readonly pattern?: string;
}

export type PdfPart = 'whole' | 'customer';

/**
 * What stands in a report's folder, by name: `report.pdf`, the customer's, and each once more under its name for a mail.
 *
 * @param label the report's; asked for the customer's word in that name
 */
export function pdfsOf(
  wish: PdfWish,
  session: Named,
  startMs: number,
  label: (key: string) => string,
): ReadonlyMap<string, PdfPart> {
  const { customer, pattern } = wish;
  const own: [string, PdfPart][] = [[WHOLE_PDF, 'whole']];
  if (customer) own.push([CUSTOMER_PDF, 'customer']);
  const names = new Map(own);
  if (pattern === undefined) return names;
  for (const [, what] of own) {
    const name = pdfName(pattern, session, startMs, what === 'customer' ? label('customer.file') : '');
    // A session may be called "report".
    if (name.toLowerCase() !== WHOLE_PDF && name.toLowerCase() !== CUSTOMER_PDF) names.set(name, what);
  }
  return names;
}
