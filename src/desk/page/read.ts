/** Read it: the report made, with the time that is left, and stopped where that is wanted. */
import { problemLine, UserError } from '../../base/problem.ts';
import { buildTree } from '../api.ts';
import { DATA } from '../data.ts';
import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';
import { openProblems } from './form/know.ts';
import { isLog } from './names.ts';
import { showReport } from './report.ts';

export function readSection(desk: Desk): Part {
  const { state, words } = desk;
  let running: AbortController | null = null;
  const start = el('button', { type: 'button', id: 'start', onclick: () => void run() }, words.say('read.start'));
  const stop = el(
    'button',
    { type: 'button', id: 'stop', hidden: true, onclick: () => running?.abort() },
    words.say('read.stop'),
  );
  const redact = el('input', { type: 'checkbox', id: 'redact' });
  const paper = el(
    'select',
    { id: 'paper' },
    ...(['a4', 'letter'] as const).map((size) =>
      el('option', { value: size, selected: size === (DATA.shop?.pageSize ?? 'a4') }, words.say(`read.${size}`)),
    ),
  );
  const bar = el('progress', { max: '1', hidden: true, 'aria-label': words.say('read.heading') });
  const said = el('p', { role: 'status', id: 'said' });
  const problems = el('ul', { class: 'message' });
  const result = el('div');
  const root = el(
    'section',
    { 'aria-labelledby': 'read' },
    el('h2', { id: 'read' }, words.say('read.heading')),
    el('p', { class: 'choice' }, redact, ' ', el('label', { for: 'redact' }, words.say('read.redact'))),
    el('p', { class: 'choice' }, el('label', { for: 'paper' }, words.say('read.paper')), ' ', paper),
    el('p', {}, start, ' ', stop),
    bar,
    said,
    el('div', { role: 'alert' }, problems),
    result,
  );

  async function run(): Promise<void> {
    running = new AbortController();
    const began = performance.now();
    busy(true);
    problems.replaceChildren();
    state.unread = null;
    said.textContent = words.say('read.begun');
    desk.show();
    try {
      const { archive } = state;
      state.built = await buildTree(desk.filesToRead(), {
        page: paper.value as 'a4' | 'letter',
        redact: redact.checked,
        archive: archive ? { name: archive.name, source: archive.source } : undefined,
        signal: running.signal,
        onProgress(done, total) {
          bar.value = done / total;
          said.textContent =
            done < total
              ? words.say('read.working', timesOf(done / total, performance.now() - began))
              : words.say('read.drawing');
        },
      });
      said.textContent = words.say('read.done');
    } catch (error) {
      if (error instanceof UserError) {
        said.textContent = words.say('read.refused');
        state.unread = { manifest: state.manifest, problems: error.problems };
        problems.replaceChildren(
          ...error.problems.map((problem) =>
            el('li', {}, problemLine({ ...problem, message: words.message(problem.message) })),
          ),
        );
      } else if (error instanceof DOMException && error.name === 'AbortError')
        said.textContent = words.say('read.stopped');
      else said.textContent = words.say('read.bug', { why: error instanceof Error ? error.message : String(error) });
    }
    running = null;
    busy(false);
    desk.show();
  }

  function busy(is: boolean): void {
    state.reading = is;
    [start.hidden, stop.hidden, bar.hidden] = [is, !is, !is];
    bar.removeAttribute('value');
    (is ? stop : start).focus();
  }

  function timesOf(share: number, elapsedMs: number) {
    const left = Math.ceil(((elapsedMs / 1000) * (1 - share)) / Math.max(share, 0.001));
    return {
      percent: share.toLocaleString(words.locale, { style: 'percent' }),
      left: left < 90 ? `${left}\u00a0s` : `${Math.ceil(left / 60)}\u00a0min`,
    };
  }

  let shown: typeof state.built = null;
  function show(): void {
    const lacks = !state.files.some(({ name }) => isLog(name))
      ? 'read.no_log'
      : openProblems(desk).length > 0
        ? 'read.lacking'
        : null;
    start.disabled = lacks !== null;
    if (!running) {
      if (lacks) said.textContent = words.say(lacks);
      else if (state.built === null && start.disabled === false && !problems.hasChildNodes())
        said.textContent = said.textContent === words.say('read.stopped') ? said.textContent : words.say('read.ready');
    }
    if (shown === state.built) return;
    shown = state.built;
    result.replaceChildren();
    if (shown) void showReport(shown, desk, result);
  }
  return { root, show };
}
