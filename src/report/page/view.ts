/** The report as the templates take it: every number, time and status already in words. Adds no facts of its own. */
import { wholeDays } from '../../base/whole-days.ts';
import { type Moment, momentsOf } from '../../charts/drawing/moments.ts';
import { filled } from '../../charts/drawing/words.ts';
import { LONG_DAYS } from '../../checks/stand-time.ts';
import type { Photo } from '../../manifest/session.ts';
import type { Unit } from '../../measures/limit.ts';
import type { Report } from '../contract/report.ts';
import { headlines, MARK_OF } from '../summary.ts';
import type { Content } from '../words/content.ts';
import type { Format } from '../words/format.ts';
import { readSections, STAGES, toHtml } from '../words/prose.ts';
import { eventTables } from './event-tables.ts';
import { logTables } from './log-tables.ts';
import { epoch, type PageChart, type PageWords } from './page-words.ts';
import { MODEL_PART, type PortraitPart, portraitConclusions, portraitIntro, portraitParts } from './portrait-parts.ts';
import { modelTable, portraitTables } from './portrait-tables.ts';
import { sessionTables } from './session-tables.ts';
import { axisOf, type Figure, figuresOf, findingView, isBrief, portraitLeads, rank } from './view-findings.ts';

/** The picture of the whole log. */
const OVERVIEW = 'session-overview';

export function pageView(report: Report, charts: readonly PageChart[], words: PageWords) {
  const { format } = words;
  const { situation, causes } = headlines(report.findings);
  const parts = portraitParts(report, words.content);
  const figures = figuresOf(report, charts, situation, words, portraitConclusions(parts));
  const ranked = rank(report.findings);
  const views = ranked.map((finding) => findingView(finding, report, charts, figures, words));
  const lead = causes.map((cause) => axisOf(cause.check, charts, 'lead-')).find((axis) => axis !== null);
  return {
    report,
    language: report.language,
    title: `${report.session.title} — ${report.session.vehicle.description}`,
    situation: MARK_OF[situation],
    facts: facts(report, words),
    lead,
    mayStand: mayStand(report, words),
    span: `${format.date(epoch(report.log.start))} – ${format.date(epoch(report.log.end))}`,
    ranked: views,
    open: views.filter((view) => !isBrief(view)),
    undecided: views.filter((view) => isBrief(view) && view.status === 'undecided' && !view.notMeasured),
    unmeasured: views.filter((view) => isBrief(view) && view.notMeasured),
    clear: views.filter((view) => view.status === 'clear'),
    // On paper the first table holds what is open; where nothing is, it holds all.
    others: views.every((view) => view.status === 'clear') ? 0 : views.filter((view) => view.status === 'clear').length,
    folded: views.some((view) => view.status === 'clear' && view.folded),
    portrait: portraitView(report, parts, figures, words),
    model: modelView(report, parts, figures, words),
    overview: figures.filter(
      ({ name, check }) => name === OVERVIEW || (check !== null && !report.findings.some((one) => one.check === check)),
    ),
    checklist: STAGES.map((stage) => ({ stage, steps: stepsOf(report, stage) })).filter(
      ({ steps }) => steps.length > 0,
    ),
    session: sessionTables(report, words),
    events: eventTables(report, words),
    log: logTables(report, words),
    fitting: fitting(report, words),
    limits: report.session.limits.map((limit) => ({
      name: limit.key,
      value: format.limit(limit.value, limit.unit as Unit),
      source: limit.source,
    })),
    glossary: readSections('glossary.md', words.content.text('glossary.md')).parts.map(({ name, source }) => ({
      name,
      html: toHtml(source),
    })),
  };
}

const DAY_S = 86_400;

/** Left open by what another finding puts in doubt, or by a battery that empties itself: then no days are named. */
const NO_DAYS: readonly (string | null)[] = ['in-doubt', 'not-held', 'check-failed'];

/** What reaches over more than this tells a customer nothing. */
const MOST_SPREAD = 20;

/** How many days it may stand, rounded as the finding rounds them. Null in reports without the check. */
function mayStand({ findings }: Report, { content, format }: PageWords): string | null {
  const finding = findings.find(({ check }) => check === 'stand-time');
  if (!finding) return null;
  const say = (key: string, facts: Readonly<Record<string, string>> = {}) => filled(content.label(key), facts);
  const { measured } = finding;
  if (finding.variant === 'now') return say('customer.stand_now');
  if (measured?.unit !== 's' || NO_DAYS.includes(finding.reason_key)) return say('customer.stand_unknown');
  const { value, uncertainty } = measured;
  const { low, high } = wholeDays(value - (uncertainty ?? 0), value + (uncertainty ?? 0));
  if (high > MOST_SPREAD * Math.max(low, 1)) return say('customer.stand_unknown');
  if (high > LONG_DAYS && low >= 1) return say('customer.stand_least', { low: format.days(low * DAY_S) });
  const most = format.days(high * DAY_S);
  if (high < 1) return say('customer.stand_none');
  // How full it was nobody saw.
  if (finding.variant === 'charge-unknown' && low < 1) return say('customer.stand_full', { high: most });
  if (low < 1) return say('customer.stand_most', { high: most });
  return uncertainty === null || uncertainty === 0
    ? say('customer.stand_about', { high: most })
    : say('customer.stand_range', { low: format.number(low, 0), high: most });
}

/** Null where the report is older than portraits are. */
function portraitView(report: Report, parts: readonly PortraitPart[], figures: readonly Figure[], words: PageWords) {
  if (!report.portrait) return null;
  const tables = portraitTables(report.portrait, words);
  return {
    ...portraitIntro(words.content),
    leads: portraitLeads(report),
    parts: parts
      .filter(({ id }) => id !== MODEL_PART)
      .map((one) => ({ ...withPictures(one, figures), tables: tables[one.id] ?? [] })),
  };
}

/** Null where there is no healthy vehicle of the model. */
function modelView(report: Report, parts: readonly PortraitPart[], figures: readonly Figure[], words: PageWords) {
  const own = parts.find(({ id }) => id === MODEL_PART);
  if (!own || !report.against_model) return null;
  return { ...withPictures(own, figures), tables: [modelTable(report.against_model, words)] };
}

const withPictures = (part: PortraitPart, figures: readonly Figure[]) => ({
  ...part,
  figures: figures.filter(({ name }) => name === part.chart),
});

function stepsOf(report: Report, stage: string) {
  const name = (check: string) => report.findings.find((finding) => finding.check === check)?.name ?? check;
  return report.checklist
    .map((step, index) => ({ ...step, id: `step-${index + 1}`, askedBy: step.checks.map(name).join(', ') }))
    .filter((step) => step.stage === stage);
}

/** What stands on the head of the first page; what was not given is left out. */
function facts(report: Report, { content, format }: PageWords) {
  const { session, log } = report;
  const { vehicle } = session;
  const kilometres = vehicle.odometer_km === null ? null : `${format.number(vehicle.odometer_km, 0)}\u00a0km`;
  const logged = `${format.dateTime(epoch(log.start))} – ${format.dateTime(epoch(log.end))}`;
  const rows: [string, string | null][] = [
    ['vehicle', vehicle.description],
    ['registration', vehicle.registration],
    ['vin', vehicle.vin],
    ['odometer', kilometres],
    ['battery', batteryText(report, content, format)],
    ['powertrain', vehicle.powertrain === 'combustion' ? null : content.label(`powertrain.${vehicle.powertrain}`)],
    ['repair_order', session.repair_order],
    ['technician', session.technician],
    ['logged', `${logged} (${format.duration(epoch(log.end) - epoch(log.start))})`],
  ];
  return rows.flatMap(([key, value]) =>
    value ? [{ key, value, wide: ['vehicle', 'battery', 'logged'].includes(key) }] : [],
  );
}

function batteryText({ session: { vehicle, battery } }: Report, content: Content, format: Format): string {
  const parts = [
    `${vehicle.system_voltage_v}\u00a0V`,
    content.label(`chemistry.${battery.chemistry}`),
    battery.capacity_ah === null ? '' : capacityText(battery.capacity_ah, battery.capacity_from, content, format),
    battery.cold_cranking_a === null
      ? ''
      : `${format.number(battery.cold_cranking_a)}\u00a0A\u00a0${battery.cranking_standard ?? ''}`,
  ];
  return parts.filter(Boolean).join(', ').trim();
}

function capacityText(capacityAh: number, from: string | null, content: Content, format: Format): string {
  if (from === null) return `${format.number(capacityAh)}\u00a0Ah`;
  return `${format.number(Math.round(capacityAh))}\u00a0Ah (${content.label('session.from_reserve')})`;
}

function fitting(report: Report, { content, format, photos }: PageWords) {
  const { install } = report.session;
  const when = (iso: string | null) => (iso ? format.dateTime(epoch(iso)) : null);
  const said = (value: boolean | null | undefined) =>
    typeof value === 'boolean' ? content.label(value ? 'yes' : 'no') : null;
  const saver = install.memory_saver;
  const volts = [saver?.voltage_before_v, saver?.voltage_during_v].map((value) => format.V(value));
  const rows: [string, string | null][] = [
    ['fitted_at', when(install.fitted_at)],
    ['removed_at', when(install.removed_at)],
    ['memory_saver', said(saver?.used)],
    ['memory_saver_voltage', saver?.used ? volts.join(' – ') : null],
    ['sensor', install.current_sensor_place],
    ['clock', said(install.clock_checked)],
    ['amp_hours', said(install.amp_hours_cleared)],
    ['draw_at_start', install.draw_at_start_a === null ? null : format.mA(install.draw_at_start_a)],
  ];
  const taken = photosOf(report);
  const moments = sessionMoments(report);
  return {
    rows: rows.map(([key, value]) => ({ key, value })),
    photos: taken.map(({ file, text }) => ({
      name: file,
      text: text ?? null,
      number: moments.find(({ photo }) => photo === file)?.number ?? null,
      address: photos?.get(file)?.address ?? null,
      why: photos?.get(file)?.why ?? null,
    })),
    moments: moments.map((moment) => ({
      at: format.dateTime(moment.atMs / 1000),
      text: moment.text,
      photo: moment.photo,
      byCamera: moment.atFrom === 'camera',
    })),
    heading: moments.some(({ photo }) => photo !== null) ? 'notes_photos' : 'notes',
  };
}

/** Notes and photos as the picture marks them. */
export function sessionMoments(report: Report): Moment[] {
  const notes = report.session.notes.map(({ at, text }) => ({ atMs: Date.parse(at), text }));
  return momentsOf(notes, photosOf(report));
}

function photosOf({ session }: Report): Photo[] {
  return session.photos_taken.map(({ file, at, time_from, text }) => ({
    file,
    atMs: at === null ? undefined : Date.parse(at),
    atFrom: time_from ?? undefined,
    text: text ?? undefined,
  }));
}
