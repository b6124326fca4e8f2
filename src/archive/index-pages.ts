/**
 * The archive's own pages, from its reports: every session in a table that is whole without scripts (a small one adds
 * search, filters and sorting), and every check with its limits.
 */
import { zoneOf } from '../base/zone.ts';
import type { Status } from '../checks/check.ts';
import { checkList, renderCheckList } from '../report/page/check-list.ts';
import { contentPolicy } from '../report/page/explore.ts';
import { styleOf } from '../report/page/page.ts';
import { pageTemplate } from '../report/page/template.ts';
import { headlines, MARK_OF } from '../report/summary.ts';
import type { Content } from '../report/words/content.ts';
import { makeFormat } from '../report/words/format.ts';
import type { Archive, StoredReport } from './stored-report.ts';
import type { Vehicle } from './vehicles/vehicles.ts';

const STATUSES: readonly Status[] = ['fault', 'watch', 'undecided', 'clear'];
const PURPOSES = ['complaint', 'after-repair', 'baseline'];

/** By path in the archive. Newest first; a report that cannot be used is named on the page, and left out of the table. */
export function indexPages(
  { sessions, damaged }: Archive,
  vehicles: readonly Vehicle[],
  { content, pageSize }: { readonly content: Content; readonly pageSize: 'a4' | 'letter' },
): Map<string, string> {
  const style = `${styleOf(pageSize, content.label('archive.title'), content)}\n${content.template('styles/archive.css')}`;
  const script = content.template('scripts/archive.js');
  const html = pageTemplate(content, 'archive.hbs', ['marks', 'status'])({
    language: content.language,
    script,
    policy: contentPolicy(script, true),
    rows: tableRows(sessions, vehicles, content),
    checks: checksNamed(
      sessions.map(({ report }) => report),
      content,
    ),
    statuses: STATUSES,
    purposes: PURPOSES,
    damaged,
  });
  return new Map([
    // One style sheet with the fonts in it for all pages: inlined, it would be a quarter of a megabyte for each vehicle.
    ['archive.css', style],
    ['checks.html', renderCheckList(content, pageSize)],
    ['index.html', html],
  ]);
}

function tableRows(sessions: Archive['sessions'], vehicles: readonly Vehicle[], content: Content) {
  const vehicleOf = new Map(vehicles.flatMap((one) => one.sessions.map((report) => [report, one] as const)));
  const newestFirst = sessions.toSorted(
    (a, b) => compare(b.report.log.start, a.report.log.start) || compare(a.folder, b.folder),
  );
  return newestFirst.map(({ folder, report }) => {
    const { session, log, findings } = report;
    const vehicle = vehicleOf.get(report);
    const { situation, findings: led } = headlines(findings);
    const titles = led.map((finding) => finding.title);
    const found = findings.filter(({ status }) => status === 'fault' || status === 'watch');
    return {
      link: `sessions/${encodeURIComponent(folder)}/index.html`,
      title: session.title,
      vehicle: session.vehicle.description,
      vehicleName: session.vehicle.registration ?? session.vehicle.vin,
      vehicleLink: vehicle ? `vehicles/${vehicle.folder}/index.html` : null,
      repairOrder: session.repair_order,
      technician: session.technician,
      purpose: session.purpose,
      start: log.start,
      date: makeFormat(content.locale, zoneOf(session.timezone), content.label('unknown')).date(
        Date.parse(log.start) / 1000,
      ),
      status: MARK_OF[situation],
      rank: STATUSES.indexOf(MARK_OF[situation]),
      checks: found.map(({ check }) => check).join(' '),
      headline: titles.length > 0 ? titles : [report.summary.answer],
    };
  });
}

/** Checks that found something in any session, by their names in the pages' language; one that is no more keeps its own. */
function checksNamed(reports: readonly StoredReport[], content: Content) {
  const found = reports.flatMap(({ findings }) =>
    findings.filter(({ status }) => status === 'fault' || status === 'watch'),
  );
  const ours = new Map(checkList(content).map(({ check, name }) => [check, name]));
  const names = new Map(found.map(({ check, name }) => [check, ours.get(check) ?? name]));
  return [...names].map(([check, name]) => ({ check, name })).sort((a, b) => compare(a.name, b.name));
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
