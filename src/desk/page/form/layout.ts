/** In which order the form asks: what everybody must say first, what few need folded away. */
import { FIELDS, type Field, type FieldList, LISTS } from './fields.ts';

export interface FormPart {
  /** Of its words: `section.<name>`. */
  readonly name: string;
  readonly fields: readonly Field[];
  readonly lists: readonly FieldList[];
  readonly folded: boolean;
}

interface Claim {
  readonly name: string;
  /** Names of fields or lists, or what they begin with; the first part that claims one has it. */
  readonly of: readonly string[];
  readonly folded?: boolean;
}

/** What is new in the schema comes to the part that claims its section. */
const CLAIMS: readonly Claim[] = [
  {
    name: 'session',
    of: ['session.title', 'session.purpose', 'session.concern', 'session.repair_order', 'session.technician'],
  },
  { name: 'vehicle', of: ['vehicle'] },
  { name: 'battery', of: ['battery'] },
  {
    name: 'sensor',
    of: [
      'log.columns.time.format',
      'log.columns.current.positive',
      'log.columns.current.accuracy',
      'log.columns.current.range',
      'log.columns.voltage.accuracy',
      'log.columns.temperature.accuracy',
      'session.timezone',
    ],
  },
  { name: 'circuits', of: ['log.channels'], folded: true },
  { name: 'notes', of: ['notes'], folded: true },
  { name: 'photos', of: ['photos'], folded: true },
  { name: 'install', of: ['install'], folded: true },
  { name: 'limits', of: ['limits'], folded: true },
  { name: 'assessment', of: ['assessment'], folded: true },
  { name: 'log', of: ['log'], folded: true },
  { name: 'filing', of: [''], folded: true },
];

/** In the order in which they are claimed. */
const place = ({ of }: Claim, { name }: Field) => of.findIndex((one) => one === name || name.startsWith(`${one}.`));

export const FORM: readonly FormPart[] = parts();

function parts(): FormPart[] {
  const owner = (name: string) =>
    CLAIMS.find(({ of }) => of.some((claim) => claim === '' || name === claim || name.startsWith(`${claim}.`)));
  return CLAIMS.map((claim) => ({
    name: claim.name,
    fields: FIELDS.filter(({ name }) => owner(name) === claim).sort((a, b) => place(claim, a) - place(claim, b)),
    lists: LISTS.filter(({ name }) => owner(name) === claim),
    folded: claim.folded ?? false,
  }));
}
