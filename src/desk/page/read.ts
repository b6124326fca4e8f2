/** Read it, and keep it: the report as `index.html` shows it, and the ways to keep what was made. */
import { UserError } from '../../base/problem.ts';
import { type BuiltFile, build } from '../api.ts';
import type { Desk, Part } from './desk.ts';
import { download, el } from './dom.ts';
import { Busy, keepInFolder, mayWriteFolders, zipOf } from './keep.ts';
import { openProblems } from './know.ts';

export function readSection(desk: Desk): Part {
  const { state, words } = desk;
  let running: AbortController | null = null;
  const start = el('button', { type: 'button', id: 'start', onclick: () => void run() }, words.say('read.start'));
  const stop = el(
    'button',
    { type: 'button', id: 'stop', hidden: true, onclick: () => running?.abort() },
    words.say('read.stop'),
  );
  const bar = el('progress', { max: '1', hidden: true, 'aria-label': words.say('read.heading') });
  const said = el('p', { role: 'status', id: 'said' });
  const problems = el('ul', { lang: 'en', role: 'alert' });
  const result = el('div');
  const root = el(
    'section',
    { 'aria-labelledby': 'read' },
    el('h2', { id: 'read' }, words.say('read.heading')),
    el('p', {}, start, ' ', stop),
    bar,
    said,
    problems,
    result,
  );

  async function run(): Promise<void> {
    running = new AbortController();
    const began = performance.now();
    busy(true);
    problems.replaceChildren();
    try {
      state.built = await build(desk.filesToRead(), {
        signal: running.signal,
        onProgress(done, total) {
          bar.value = done / total;
          said.textContent =
            done < total
              ? words.say('read.working', timesOf(done / total, performance.now() - began))
              : words.say('read.drawing');
        },
      });
      said.textContent = '';
    } catch (error) {
      if (error instanceof UserError) {
        said.textContent = '';
        problems.replaceChildren(...error.message.split('\n').map((line) => el('li', {}, line)));
      } else if (error instanceof DOMException && error.name === 'AbortError')
        said.textContent = words.say('read.stopped');
      else said.textContent = words.say('read.bug', { why: error instanceof Error ? error.message : String(error) });
    }
    busy(false);
    show();
  }

  function busy(is: boolean): void {
    [start.hidden, stop.hidden, bar.hidden] = [is, !is, !is];
    (is ? stop : start).focus();
  }

  function timesOf(share: number, elapsedMs: number) {
    const left = Math.ceil(((elapsedMs / 1000) * (1 - share)) / Math.max(share, 0.001));
    return {
      percent: share.toLocaleString(words.locale, { style: 'percent' }),
      left: left < 90 ? `${left}\u00a0s` : `${Math.ceil(left / 60)}\u00a0min`,
    };
  }

  let shown: readonly BuiltFile[] | null = null;
  function show(): void {
    const open = openProblems(desk).length;
    start.disabled = state.files.length === 0 || open > 0;
    if (start.disabled && !running) said.textContent = words.say('read.lacking');
    else if (said.textContent === words.say('read.lacking')) said.textContent = '';
    if (shown === state.built) return;
    shown = state.built;
    result.replaceChildren();
    const page = state.built.find(({ path }) => /^sessions\/[^/]+\/index\.html$/.test(path));
    if (page) void page.blob.text().then((html) => result.replaceChildren(...report(html, page, desk)));
  }
  return { root, show };
}

function report(html: string, page: BuiltFile, { state, words }: Desk): HTMLElement[] {
  const id = page.path.split('/')[1];
  const told = el('p', { role: 'status', id: 'kept' });
  const frame = el('iframe', {
    title: words.say('report.frame'),
    sandbox: 'allow-scripts allow-same-origin allow-modals',
  });
  frame.srcdoc = html;
  const tell = async (work: () => Promise<string | null>) => {
    try {
      const where = await work();
      if (where !== null) told.textContent = words.say('report.kept', { where });
    } catch (error) {
      told.textContent =
        error instanceof Busy
          ? words.say('report.busy')
          : words.say('report.not_kept', { why: error instanceof Error ? error.message : String(error) });
    }
  };
  const button = (key: string, work: () => Promise<string | null>) =>
    el('button', { type: 'button', id: key, onclick: () => void tell(work) }, words.say(`report.${key}`));
  return [
    el('h2', { id: 'report' }, words.say('report.heading')),
    el(
      'p',
      {},
      el(
        'button',
        { type: 'button', id: 'print', onclick: () => frame.contentWindow?.print() },
        words.say('report.print'),
      ),
    ),
    el('h3', {}, words.say('report.keep')),
    el(
      'p',
      {},
      mayWriteFolders() ? button('keep_folder', () => keepInFolder(state.built)) : words.say('report.no_folder'),
      ' ',
      button('keep_zip', async () => {
        download(await zipOf(state.built), `${id}.zip`);
        return `${id}.zip`;
      }),
      ' ',
      button('keep_page', async () => {
        download(page.blob, `${id}.html`);
        return `${id}.html`;
      }),
    ),
    told,
    frame,
  ];
}
