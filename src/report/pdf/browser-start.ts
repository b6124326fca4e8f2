/** Starts one browser process with a profile folder of its own, and leaves neither behind. */
import { execFile } from 'node:child_process';
import { rmSync } from 'node:fs';
import { mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'puppeteer';
import type { Host } from './browser-find.ts';

export interface RunningBrowser {
  readonly browser: Browser;
  /** Rejects when the process is gone; some calls of puppeteer would wait on for half a minute. */
  readonly gone: Promise<never>;
  /** Ends the process, also one that does not answer, and removes its profile. May be called again. */
  stop(): Promise<void>;
}

const PROFILE_PREFIX = 'standstill-profile-';
const DAY_MS = 86_400_000;

/** What a browser needs to print the same page the same way everywhere, and to keep off the network. */
const ARGUMENTS = [
  '--host-resolver-rules=MAP * ~NOTFOUND', // also stops what no page request shows, such as preconnect
  '--font-render-hinting=none', // else line breaks follow the machine's font settings
  '--user-agent=Standstill', // some builds write this into the PDF as its creator
];

/**
 * Throws what the start failed with. The sandbox is given up only for root, for whom a browser does not start with one,
 * and where puppeteer's own variable asks for it: photos and names in a report come from elsewhere, so a system that
 * denies the sandbox gets no PDF until somebody decides so.
 */
export async function startBrowser(
  program: { readonly path: string; readonly env: Readonly<Record<string, string>> },
  host: Host,
  timeoutMs: number,
): Promise<RunningBrowser> {
  const { launch } = await import('puppeteer'); // loading it takes longer than a command without PDF
  await removeLostProfiles(host.tmp);
  const profile = await mkdtemp(join(host.tmp, PROFILE_PREFIX)); // mode 0700
  const removeProfile = () => rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 50 });
  const unshut = host.uid === 0 || host.env.PUPPETEER_DANGEROUS_NO_SANDBOX === 'true';
  const args = unshut ? ['--no-sandbox', ...ARGUMENTS] : ARGUMENTS;
  const env = { ...host.env, ...program.env, TZ: 'UTC', LC_ALL: 'C.UTF-8' };
  try {
    const browser = await launch({
      executablePath: program.path,
      headless: 'shell',
      pipe: true, // a debugging port would be open to every user of the machine
      userDataDir: profile,
      args,
      env,
      timeout: timeoutMs,
      protocolTimeout: timeoutMs,
      handleSIGINT: false,
      handleSIGTERM: false,
      handleSIGHUP: false,
    });
    const kill = () => browser.process()?.kill('SIGKILL');
    const forget = onEndOfProcess(() => {
      kill();
      rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 50 });
    });
    const gone = new Promise<never>((_, reject) => {
      browser.once('disconnected', () => reject(new Error('the browser ended before its time')));
    });
    gone.catch(() => undefined); // nobody waits for it between two prints
    return {
      browser,
      gone,
      async stop() {
        forget();
        const ended = browser.connected && (await endedWithin(browser.close(), 5000));
        if (!ended) kill();
        await removeProfile();
      },
    };
  } catch (error) {
    const log = await lastWords(
      program.path,
      [...args, `--user-data-dir=${profile}`],
      env,
      Math.min(timeoutMs, 10_000),
    );
    await removeProfile();
    throw new Error(`${error instanceof Error ? error.message : error}\n${log}`);
  }
}

/** What a browser that did not start writes to its error output: over a pipe, puppeteer keeps none of it. */
function lastWords(path: string, args: readonly string[], env: NodeJS.ProcessEnv, timeout: number): Promise<string> {
  return new Promise((resolve) => {
    const command = ['--headless', ...args, '--dump-dom', 'about:blank'];
    execFile(path, command, { env, timeout }, (error, _, log) => resolve(log || String(error?.message ?? '')));
  });
}

async function endedWithin(work: Promise<void>, ms: number): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<boolean>((resolve) => {
    timer = setTimeout(resolve, ms, false);
  });
  const ended = work.then(
    () => true,
    () => false,
  );
  return Promise.race([ended, late]).finally(() => clearTimeout(timer));
}

/** Listeners of ours for signals, by which those of others are told. */
const ours = new Set<unknown>();

/**
 * Runs `clean` when our own process ends, also by a signal, which then ends it as it would have; where somebody else
 * listens for the signal, the end is theirs to decide. Returns the way to call that off.
 */
function onEndOfProcess(clean: () => void): () => void {
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
  const forget = () => {
    process.off('exit', clean);
    for (const signal of signals) process.off(signal, onSignal);
    ours.delete(onSignal);
  };
  const onSignal = (signal: NodeJS.Signals) => {
    if (!process.listeners(signal).every((listener) => ours.has(listener))) return;
    forget();
    clean();
    process.kill(process.pid, signal);
  };
  ours.add(onSignal);
  process.on('exit', clean);
  for (const signal of signals) process.on(signal, onSignal);
  return forget;
}

/** Profiles whose run was killed outright: nothing prints for a day. */
async function removeLostProfiles(tmp: string): Promise<void> {
  for (const entry of await readdir(tmp)) {
    if (!entry.startsWith(PROFILE_PREFIX)) continue;
    const path = join(tmp, entry);
    const age = await stat(path).then(
      (found) => Date.now() - found.mtimeMs,
      () => 0,
    );
    if (age > DAY_MS) await rm(path, { recursive: true, force: true }).catch(() => undefined);
  }
}
