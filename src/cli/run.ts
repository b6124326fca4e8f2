/** The command line: what each command takes. Commands load when they are called, so that help answers at once. */
import { existsSync } from 'node:fs';
import { Argument, Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { CallError } from '../base/problem.ts';
import { VERSION } from '../node/version.ts';
import { patternFault } from '../report/pdf/pdf-names.ts';
import { failureText } from './failure.ts';
import { givenFields, type InitFlags, withInitOptions } from './init-options.ts';
import { type PlanFlags, withPlanOptions } from './plan-options.ts';
import type { SchemaOf } from './schema.ts';
import { quietened, type Terminal } from './terminal.ts';

/** Returns the exit code: 0 done, 1 a session could not be reported, 2 the call's words are off. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  let code = 0;
  const program = new Command('standstill')
    .description('Turns a vehicle battery log into a diagnostic report.')
    .version(VERSION)
    .showHelpAfterError('Call with --help for what is expected.')
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err })
    .exitOverride();

  const done = (exit: number) => {
    code = exit;
  };
  addSessionCommands(program, terminal, done);
  addArchiveCommands(program, terminal, done);

  try {
    await program.parseAsync(args, { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    terminal.err(failureText(error));
    return error instanceof CallError ? 2 : 1;
  }
}

type Done = (exit: number) => void;

/** One session, from its folder on. */
function addSessionCommands(program: Command, terminal: Terminal, done: Done): void {
  withBuildOptions(program.command('build'))
    .description('analyse session folders, write their reports, update the archive')
    .argument('<folders...>', 'session folders, each with a session.yaml')
    .action(async (folders: string[], options: BuildFlags) => {
      const { expectLogs } = await import('../node/read-log-files.ts');
      expectLogs(folders);
      const { build } = await import('./build.ts');
      done(await build(folders, options, options.quiet ? quietened(terminal) : terminal));
    });

  program
    .command('check')
    .description('say what was understood of manifest and log, and every fault; write nothing')
    .argument('<folders...>', 'session folders')
    .option('--json', 'answer as JSON, a line a session', false)
    .option('--out <folder>', 'the archive, for limits from another session and the languages of shop.yaml', 'out')
    .action(async (folders: string[], options: { json: boolean; out: string }) => {
      const { check } = await import('./check.ts');
      done(await check(folders, options, terminal));
    });

  program
    .command('checks')
    .description('list every check: its question, default limits and their sources')
    .option('--json', 'answer as JSON', false)
    .option('--html <file>', 'write the list as a page')
    .option(...LANGUAGE)
    .action(async (options: { json: boolean; html?: string; language?: string }) => {
      const { checks } = await import('./checks.ts');
      done(await checks(options, terminal));
    });

  withInitOptions(program.command('init'))
    .description('make a session folder: a commented session.yaml and a fitting sheet')
    .argument('<folder>', 'the new session folder')
    .action(async (folder: string, flags: InitFlags) => {
      const { init } = await import('./init.ts');
      const { createLazyPrinter } = await import('./lazy-printer.ts');
      const printer = flags.pdf ? createLazyPrinter(flags.browser) : null;
      const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
      try {
        done(
          await init(folder, { ...flags, given: givenFields(flags) }, terminal, {
            timezone: timeZone,
            nowMs: Date.now(),
            printer,
          }),
        );
      } finally {
        await printer?.close();
      }
    });

  withPlanOptions(program.command('plan'))
    .description('before fitting: what the card holds, how long to log, how long the vehicle may stand')
    .action(async (flags: PlanFlags) => {
      const { plan } = await import('./plan.ts');
      done(await plan(flags, terminal));
    });

  program
    .command('schema')
    .description('write the JSON Schema of session.yaml (for editors), of report.json or of comparison.json')
    .addArgument(
      new Argument('[of]', 'which of the three').choices(['session', 'report', 'comparison']).default('session'),
    )
    .action(async (of: SchemaOf) => {
      const { jsonSchemaOf } = await import('./schema.ts');
      terminal.out(`${JSON.stringify(await jsonSchemaOf(of), null, 2)}\n`);
    });
}

/** Many of them. */
function addArchiveCommands(program: Command, terminal: Terminal, done: Done): void {
  program
    .command('index')
    .description("rebuild an archive's pages from the reports that are in it")
    .argument('<out>', "the archive's folder")
    .option(...LANGUAGE)
    .option('--for <ids>', 'with --into: only these sessions, by id, registration or VIN, separated by commas', parted)
    .option('--into <folder>', 'a new folder to hand out, with nothing of other sessions in it')
    .action(async (out: string, options: { language?: string; for?: string[]; into?: string }) => {
      const { index } = await import('./index-command.ts');
      done(await index(out, options, terminal));
    });

  withPrintOptions(program.command('compare'))
    .description('put two sessions side by side: what changed, and whether it is more than the logs leave open')
    .argument('<before>', "a session's id in the archive, its report's folder, or its session folder")
    .argument('<after...>', 'the same, of the later session; of several the last: each other is set beside it')
    .option('--json', 'answer as JSON', false)
    .action(async (before: string, more: string[], options: PrintFlags & { json: boolean }) => {
      const { compare } = await import('./compare.ts');
      done(await compare([before, ...more], options, options.quiet ? quietened(terminal) : terminal));
    });

  program
    .command('desk')
    .description('write desk.html: the whole job in one page, for whoever has no terminal')
    .option('--out <folder>', "the archive's folder", 'out')
    .option(...LANGUAGE)
    .action(async (options: { out: string; language?: string }) => {
      const { desk } = await import('./desk.ts');
      done(await desk(options, terminal));
    });

  program
    .command('tables')
    .description("write the archive's sessions, findings, stands, wakes, cranks and drives as Parquet")
    .option('--out <folder>', "the archive's folder", 'out')
    .action(async (options: { out: string }) => {
      const { tables } = await import('./tables.ts');
      done(await tables(options, terminal));
    });

  withBuildOptions(program.command('watch'))
    .description('build the sessions that are dropped into a folder, until it is stopped')
    .argument('<folder>', 'the folder that session folders are dropped into')
    .action(async (folder: string, options: BuildFlags) => {
      const { watch } = await import('./watch.ts');
      const { untilStopped } = await import('./until-stopped.ts');
      done(await watch(folder, options, options.quiet ? quietened(terminal) : terminal, untilStopped(terminal)));
    });

  withBuildOptions(program.command('demo'))
    .description('write the demo sessions and build them')
    .argument('[folder]', 'where the sessions go', 'out/demo-sessions')
    .option(
      '--family',
      'seven electric cars of one model, one of them unlike the others, in place of the three sessions',
    )
    .action(async (folder: string, options: BuildFlags) => {
      const { demo } = await import('./demo.ts');
      done(await demo(folder, options, options.quiet ? quietened(terminal) : terminal));
    });
}

interface PrintFlags {
  out: string;
  pdf: boolean;
  page?: 'a4' | 'letter';
  language?: string;
  browser?: string;
  quiet: boolean;
}

const LANGUAGE = ['--language <code>', 'language of the pages, such as en or de'] as const;

interface BuildFlags extends PrintFlags {
  customerPdf?: boolean;
  pdfName?: string;
  redact: boolean;
  replace: boolean;
  jobs: number;
}

function withBuildOptions(command: Command): Command {
  return withPrintOptions(command)
    .option('--customer-pdf', "the customer's page also as a PDF of its own, customer.pdf")
    .option(
      '--pdf-name <pattern>',
      'PDFs also under a name for a mail, such as "{registration}_{date}_{id}.pdf"',
      aPattern,
    )
    .option('--redact', 'leave out whose vehicle it is, and what people wrote of it', false)
    .option('--replace', 'let a session take the place of another of the same id', false)
    .option('--jobs <n>', 'sessions at once', whole, 1);
}

function withPrintOptions(command: Command): Command {
  return command
    .option('--out <folder>', 'where reports and archive go', aFolder, 'out')
    .option('--no-pdf', 'write no PDF')
    .addOption(new Option('--page <size>', 'paper of the PDF').choices(['a4', 'letter']))
    .option(...LANGUAGE)
    .option('--browser <path>', 'browser that prints the PDF')
    .option('--quiet', 'say nothing unless something is wrong', false);
}

/** Whoever writes `--out report.pdf` wants no folder of that name. */
function aFolder(text: string): string {
  if (/\.(pdf|html?|json|csv|zip)$/i.test(text) && !existsSync(text))
    throw new InvalidArgumentError(
      'it is called like a file. Expected: a folder, such as "out", in which the files will lie.',
    );
  return text;
}

function parted(text: string): string[] {
  const words = text.split(',').map((word) => word.trim());
  if (words.includes('')) throw new InvalidArgumentError('expected: ids, separated by commas.');
  return words;
}

function aPattern(text: string): string {
  const fault = patternFault(text);
  if (fault) throw new InvalidArgumentError(fault);
  return text;
}

function whole(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1 || n > 64) throw new InvalidArgumentError('expected: a whole number from 1 to 64.');
  return n;
}
