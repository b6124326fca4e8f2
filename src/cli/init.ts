/** `standstill init`: a session folder with a commented `session.yaml`, made from a sample of the log where there is one, and a fitting sheet. */

import { copyFile, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { makeFolder } from '../base/disk/make-folder.ts';
import { notWritten } from '../base/disk/not-written.ts';
import { UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import { type LogSample, readSample } from '../log/sample/sample.ts';
import { BLANK, draftManifest, type Given, NO_SAMPLE } from '../manifest/draft.ts';
import { DRAFT_FIELDS, type DraftPath, fieldFault, idFrom, pathOf } from '../manifest/draft-fields.ts';
import { pathFault } from '../manifest/paths.ts';
import { MANIFEST } from '../manifest/read-session.ts';
import { understoodAnswer } from '../manifest/understood-answer.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { diskIo } from '../node/disk-io.ts';
import { renderFittingSheet, sheetHead } from '../report/page/fitting-sheet.ts';
import type { Content } from '../report/words/content.ts';
import { chooseLanguage, languageFault } from '../report/words/languages.ts';
import { calledAs, shellWord } from './called.ts';
import { askFields, type Known } from './init-questions.ts';
import { type LazyPrinter, printerTrouble } from './lazy-printer.ts';
import type { Terminal } from './terminal.ts';

export interface InitOptions {
  /** A log of this logger, as the user named it. */
  readonly from?: string;
  /** The sample is of another session: it is looked at, not copied. */
  readonly sampleOnly: boolean;
  /** Asks nothing. */
  readonly yes: boolean;
  /** From flags, by the manifest's path. */
  readonly given: Readonly<Record<DraftPath, string>>;
  readonly id?: string;
  readonly page: 'a4' | 'letter';
}

export interface InitWorld {
  /** The computer's own, IANA. */
  readonly timezone: string;
  /** ms since the epoch: the day on which the sheet is made. */
  readonly nowMs: number;
  /** Null: no PDF is wanted. */
  readonly printer: LazyPrinter | null;
}

const SHEET = 'fitting-sheet';

/** 0: written; 1: not, and told why; 2: a flag's value is off. Never writes over a `session.yaml`. */
export async function init(
  folder: string,
  asGiven: InitOptions,
  terminal: Terminal,
  world: InitWorld,
): Promise<0 | 1 | 2> {
  const root = resolve(folder);
  const options = understoodFlags(asGiven);
  const faults = flagFaults(options);
  for (const fault of faults) terminal.err(`${fault}\n`);
  if (faults.length > 0) return 2;
  await refuseIfThere(join(root, MANIFEST));

  const sample = options.from === undefined ? undefined : await readSample(resolve(options.from), options.from, diskIo);
  const place = options.from === undefined ? undefined : await placeOf(root, options);
  if (options.given['current.positive'] !== undefined && !sample?.current) {
    const why = sample
      ? `${options.from} shows no column of current`
      : 'no sample shows a column of current; give one with --from';
    terminal.err(
      `--positive: ${why}, so there is nothing to say it of. Leave it out, and write it beside the column in ${MANIFEST}.\n`,
    );
    return 2;
  }
  const proposed = proposals(options, sample, world);
  if (!options.yes && !terminal.ask) terminal.err('Nothing was asked: standard input is no terminal.\n');
  const known =
    options.yes || !terminal.ask ? proposed : await askFields(proposed, sample, contentOf(proposed), terminal);
  if (known === null) {
    terminal.err('Stopped. Nothing was written.\n');
    return 1;
  }
  const id = options.id ?? idFrom(basename(root));
  const manifest = draftManifest({
    id: { value: id, reason: options.id ? 'as given' : "from the folder's name" },
    values: known,
    log: sample ? { ...sample, files: [place?.pattern ?? 'log/*.csv'] } : NO_SAMPLE,
  });
  let sheets: string[] = [];
  try {
    await makeFolder(join(root, 'log'));
    if (place?.copyTo) await copyFile(resolve(options.from ?? ''), join(root, place.copyTo));
    await writeFile(join(root, MANIFEST), manifest, { flag: 'wx' });
    sheets = await writeSheet(root, known, options, world);
  } catch (error) {
    throw notWritten(folder, error);
  }

  for (const name of [MANIFEST, ...sheets, ...(place?.copyTo ? [place.copyTo] : [])])
    terminal.out(`${join(folder, name)}\n`);
  terminal.err(`${next(folder, manifest, sample, place?.copyTo)}\n`);
  if (world.printer) terminal.err(printerTrouble(world.printer));
  return 0;
}

function contentOf(known: Known): Content {
  return loadContent(chooseLanguage({ asked: known['session.language']?.value, there: languagesThere() }));
}

/** Flags as people say them: `--capacity 70`. */
function understoodFlags(options: InitOptions): InitOptions {
  const given = { ...options.given };
  for (const field of DRAFT_FIELDS) {
    const text = given[pathOf(field)];
    if (text !== undefined) given[pathOf(field)] = understoodAnswer(field, text);
  }
  return { ...options, given };
}

function flagFaults({ given, id }: InitOptions): string[] {
  const faults = DRAFT_FIELDS.flatMap((field) => {
    const text = given[pathOf(field)];
    const fault = text === undefined ? undefined : fieldFault(field, text);
    return fault ? [`--${field.key.replaceAll('_', '-')}: ${fault}`] : [];
  });
  const language = given['session.language'];
  const unknown = language !== undefined && faults.length === 0 ? languageFault(language, languagesThere()) : undefined;
  if (unknown) faults.push(`--language: ${unknown}`);
  return id !== undefined && idFrom(id) !== id
    ? [...faults, `--id: Found "${plainText(id)}". Expected: letters, digits, hyphen.`]
    : faults;
}

async function refuseIfThere(path: string): Promise<void> {
  const there = await stat(path).catch(() => null);
  if (there)
    throw new UserError(`${MANIFEST} is there already, and stays as it is. Choose another folder, or move it away.`);
}

interface SamplePlace {
  /** What `log.files` says. */
  readonly pattern: string;
  /** Where the sample goes, relative to the folder; undefined where it stays. */
  readonly copyTo?: string;
}

/** A sample that lies in the folder is its log. Another is copied to `log/`, so that `check` can be run at once. */
async function placeOf(root: string, { from = '', sampleOnly }: InitOptions): Promise<SamplePlace> {
  const ending = /\.(csv|tsv|txt)(\.gz)?$/i.exec(from)?.[0];
  const inside = relative(root, resolve(from)).split(sep).join('/');
  if (ending && pathFault(inside, false) === undefined)
    return { pattern: join(dirname(inside), `*${ending}`).split(sep).join('/') };
  const kind = ending ?? '.txt';
  if (sampleOnly) return { pattern: `log/*${kind}` };
  const name = basename(from, ending ?? '').replace(/[^\p{L}\p{N} ._-]+/gu, '-');
  const copyTo = `log/${name}${kind}`;
  if (pathFault(copyTo, false) !== undefined) return { pattern: `log/*${kind}`, copyTo: `log/sample${kind}` };
  const taken = await stat(join(root, copyTo)).catch(() => null);
  if (taken)
    throw new UserError(
      `${copyTo} is there already, and stays as it is. Give that file with --from, or say --sample-only.`,
    );
  return { pattern: `log/*${kind}`, copyTo };
}

/** What is known before anybody is asked: flags first, then what sample and computer propose, with the reason. */
function proposals({ given }: InitOptions, sample: LogSample | undefined, { timezone }: InitWorld): Known {
  const proposed: Record<DraftPath, Given> = {};
  const zoneField = DRAFT_FIELDS.find((field) => field.key === 'timezone');
  if (zoneField && fieldFault(zoneField, timezone) === undefined)
    proposed['session.timezone'] = {
      value: timezone,
      reason: "this computer's; change it if the logger's clock is set to another",
    };
  if (sample?.systemV)
    proposed['vehicle.system_voltage'] = { value: `${sample.systemV.value} V`, reason: sample.systemV.reason };
  if (sample?.positive) proposed['current.positive'] = sample.positive;
  for (const [path, value] of Object.entries(given)) proposed[path as DraftPath] = { value };
  return proposed;
}

async function writeSheet(
  root: string,
  known: Known,
  { page }: InitOptions,
  { printer, nowMs }: InitWorld,
): Promise<string[]> {
  const value = (path: string) => known[path as DraftPath]?.value;
  const content = contentOf(known);
  const html = renderFittingSheet(sheetHead(value, content), { pageSize: page, content });
  await writeFile(join(root, `${SHEET}.html`), html);
  const pdf = await printer?.print(SHEET, html, page, nowMs);
  if (pdf) await writeFile(join(root, `${SHEET}.pdf`), pdf);
  return pdf ? [`${SHEET}.html`, `${SHEET}.pdf`] : [`${SHEET}.html`];
}

/** What was understood of the sample, and what is left to do. */
function next(folder: string, manifest: string, sample: LogSample | undefined, copied: string | undefined): string {
  const blanks = manifest
    .split('\n')
    .flatMap((text, k) => (text.includes(`# ${BLANK}:`) ? [`${k + 1} (${text.trim().split(':')[0]})`] : []));
  return [
    ...(sample
      ? [
          `From the sample: ${columnsSaid(sample)}. Each stands in ${MANIFEST} with its reason: look whether it is right.`,
        ]
      : []),
    ...(copied
      ? [`The sample was copied to ${copied}. If it is not this vehicle's log, remove it when that arrives.`]
      : []),
    blanks.length > 0
      ? `Fill in the blanks of ${MANIFEST}, by line: ${blanks.join(', ')}.`
      : `No blanks are left in ${MANIFEST}.`,
    `Print the fitting sheet. With the log in place: ${calledAs()} check ${shellWord(folder)}`,
  ].join('\n');
}

function columnsSaid(sample: LogSample): string {
  const { time, voltage, current, temperature, channels } = sample;
  const said = Object.entries({ time, voltage, current, temperature }).map(([role, column]) =>
    column ? `${role} in "${plainText(String(column.name))}"` : `no ${role}`,
  );
  return [...said, ...(channels.length ? [`other voltages (${channels.length}) as circuits`] : [])].join(', ');
}
