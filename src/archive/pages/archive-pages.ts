/**
 * The archive's pages from its summaries: `index.html` with the newest sessions, a page a month with all of them, one of the
 * fleet, and one a vehicle. Each is plain HTML; a script in `index.html` adds search, filters and order over all sessions.
 */
import type { DrawSvg } from '../../charts/drawing/draw.ts';
import { renderCheckList } from '../../report/page/check-list.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { styleOf } from '../../report/page/page.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import { modelPages } from '../models/model-pages.ts';
import { modelsOf } from '../models/models.ts';
import type { Archive } from '../stored-report.ts';
import type { Summary } from '../summary/summary.ts';
import { vehiclePages } from '../vehicles/vehicle-pages.ts';
import { vehiclesOf } from '../vehicles/vehicles.ts';
import { fleetPage, namesOf } from './fleet.ts';
import { monthPages } from './months.ts';
import { madeFrom, type PutPage } from './page.ts';
import { rowsOf, STATUSES } from './rows.ts';
import { searchData } from './search-data.ts';

const PURPOSES = ['complaint', 'after-repair', 'baseline'];
/** Rows that `index.html` opens with; `scripts/archive.js` shows as many at a time. */
const FIRST = 50;

export interface Listed {
  readonly summary: Summary;
  /** Of its `report.json`. */
  readonly sha256: string;
}

/** A report that cannot be used is named on the first page, and left out of every table. */
export async function archivePages(
  archive: {
    readonly sessions: readonly Listed[];
    readonly damaged: Archive['damaged'];
    /** Names of the comparisons that there are. */
    readonly compared: readonly string[];
  },
  options: {
    readonly content: Content;
    readonly pageSize: 'a4' | 'letter';
    readonly drawSvg: DrawSvg;
    readonly desk?: boolean;
  },
  put: PutPage,
): Promise<void> {
  const { content, pageSize, drawSvg, desk = false } = options;
  const summaries = archive.sessions.map(({ summary }) => summary);
  const hashes = new Map(archive.sessions.map(({ summary, sha256 }) => [summary, sha256]));
  const vehicles = vehiclesOf(summaries);
  const rows = rowsOf(archive.sessions, vehicles, content);
  const whole = (path: string, text: string) => put(path, madeFrom(text), () => text);
  // One style sheet with the fonts in it for all pages: inlined, it would be a quarter of a megabyte for each vehicle.
  const style = `${styleOf(pageSize, content.label('archive.title'), content)}\n${content.template('styles/archive.css')}`;
  await whole('archive.css', style);
  await whole('checks.html', renderCheckList(content, pageSize));
  await vehiclePages(vehicles, hashes, archive.compared, content, put);
  const models = modelsOf(summaries);
  await modelPages({ models, vehicles, hashes, content, drawSvg }, put);
  await fleetPage(summaries, vehicles, models, content, put);
  const years = await monthPages(rows, content, put);
  const script = content.template('scripts/archive.js');
  const html = pageTemplate(content, 'archive.hbs', ['marks', 'status', 'session-rows'])({
    language: content.language,
    policy: contentPolicy(script, true),
    script,
    data: searchData(rows, content),
    root: '',
    rows: rows.slice(0, FIRST),
    all: rows.length,
    more: Math.max(0, rows.length - FIRST),
    years,
    checks: namesOf(summaries, content),
    statuses: STATUSES,
    purposes: PURPOSES,
    damaged: archive.damaged,
    desk,
  });
  await whole('index.html', html);
}
