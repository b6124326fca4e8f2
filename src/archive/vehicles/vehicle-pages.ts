/** `vehicles/NAME/index.html`: a vehicle's sessions in order, and how its figures moved. */

import { lastOf } from '../../base/there.ts';
import type { Unit } from '../../measures/limit.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import type { Format } from '../../report/words/format.ts';
import { idsOfPair } from '../comparison/pairs.ts';
import { measureName } from '../measures.ts';
import { modelFile } from '../models/models.ts';
import { madeFrom, type PutPage } from '../pages/page.ts';
import { formatsOf } from '../pages/rows.ts';
import { FOLLOWED, figureOf, type Summary } from '../summary/summary.ts';
import { driftOf } from './drift.ts';
import { trendSvg } from './trend-svg.ts';
import type { Vehicle } from './vehicles.ts';

/** Rows of the table: the newest; a vehicle that was logged more often is searched for in the archive. */
const MOST = 200;

/** A figure that vehicles are followed by. */
interface Shown {
  readonly name: string;
  readonly unit: Unit;
  /** In the pages' language. */
  readonly title: string;
}

interface Pair {
  readonly pair: string;
  readonly before: Summary;
  readonly after: Summary;
}

/**
 * The page of every vehicle.
 *
 * @param hashes of the sessions' reports
 * @param compared names of the comparisons that there are
 */
export async function vehiclePages(
  vehicles: readonly Vehicle<Summary>[],
  hashes: ReadonlyMap<Summary, string>,
  compared: readonly string[],
  content: Content,
  put: PutPage,
): Promise<void> {
  const earlier = pairsOf(compared, [...hashes.keys()]);
  const template = pageTemplate(content, 'vehicle.hbs', ['marks', 'status']);
  const shown = FOLLOWED.map(({ name, unit }) => ({ name, unit: unit as Unit, title: measureName(name, content) }));
  const formatOf = formatsOf(content);
  for (const vehicle of vehicles) {
    const { folder, sessions } = vehicle;
    const own = new Set(sessions);
    // Of two sessions that are of one vehicle; another vehicle is another customer's.
    const pairs = sessions.flatMap((before) => earlier.get(before) ?? []).filter(({ after }) => own.has(after));
    const from = madeFrom(...sessions.map((one) => hashes.get(one) ?? ''), '', ...pairs.map(({ pair }) => pair));
    await put(`vehicles/${folder}/index.html`, from, () =>
      template(vehicleView(vehicle, pairs, shown, content, formatOf)),
    );
  }
}

/** By the earlier session. */
function pairsOf(compared: readonly string[], sessions: readonly Summary[]): ReadonlyMap<Summary, Pair[]> {
  const byId = new Map(sessions.map((one) => [one.session.id, one]));
  const pairs = new Map<Summary, Pair[]>();
  for (const pair of compared.toSorted()) {
    const [before, after] = (idsOfPair(pair, (id) => byId.has(id)) ?? []).map((id) => byId.get(id));
    if (before && after) pairs.set(before, [...(pairs.get(before) ?? []), { pair, before, after }]);
  }
  return pairs;
}

type FormatOf = (timezone: string) => Format;

function vehicleView(
  vehicle: Vehicle<Summary>,
  pairs: readonly Pair[],
  shown: readonly Shown[],
  content: Content,
  formatOf: FormatOf,
) {
  const { name, sessions } = vehicle;
  const last = lastOf(sessions).session;
  const facts: [string, string | null][] = [
    ['vehicle', last.vehicle.description],
    ['registration', last.vehicle.registration],
    ['vin', last.vehicle.vin],
  ];
  return {
    language: content.language,
    policy: contentPolicy(null, true),
    title: name,
    model: last.vehicle.model,
    modelPage: modelFile(last.vehicle),
    facts: facts.flatMap(([key, value]) => (value ? [{ key, value }] : [])),
    measures: shown.map(({ title }) => title),
    rows: sessions.slice(-MOST).map((report) => sessionRow(report, formatOf(report.session.timezone))),
    left: Math.max(0, sessions.length - MOST),
    search: `../../index.html#q=${encodeURIComponent(name)}`,
    drifts: shown.flatMap((measure) => driftRow(measure, sessions, formatOf(last.timezone))),
    figures: trendFigures(shown, sessions, content, formatOf(last.timezone)),
    comparisons: pairs.map(({ pair, before, after }) => ({
      link: `../../comparisons/${encodeURIComponent(pair)}/index.html`,
      before: before.session.title,
      after: after.session.title,
    })),
  };
}

function sessionRow(summary: Summary, format: Format) {
  const { session, log, status } = summary;
  const { odometer_km: odometerKm } = session.vehicle;
  return {
    link: `../../sessions/${encodeURIComponent(session.id)}/index.html`,
    title: session.title,
    date: format.date(Date.parse(log.start) / 1000),
    purpose: session.purpose,
    repairOrder: session.repair_order,
    status,
    odometer: odometerKm === null ? '–' : `${format.number(odometerKm, 0)}\u00a0km`,
    values: FOLLOWED.map(({ name, unit }) => {
      const { value, uncertainty } = figureOf(summary, name);
      return value === null ? '–' : format.quantity(value, unit as Unit, uncertainty);
    }),
  };
}

/** How a figure stands to the vehicle's first sessions; none where there are too few. */
function driftRow({ name, unit, title }: Shown, sessions: readonly Summary[], format: Format) {
  const drift = driftOf(pointsOf(name, sessions).map(({ atMs, figure }) => ({ atMs, reading: figure })));
  if (!drift) return [];
  const { usual, last, sinceMs, perYear } = drift;
  const write = (value: number, U?: number) => format.quantity(value, unit, U);
  return [
    {
      name: title,
      usual: write(usual),
      last: write(last),
      since: sinceMs === null ? '–' : format.date(sinceMs / 1000),
      perYear: perYear === null ? '–' : write(perYear.value, perYear.U),
    },
  ];
}

const pointsOf = (name: string, sessions: readonly Summary[]) =>
  sessions.map((one) => ({ atMs: Date.parse(one.log.start), figure: figureOf(one, name) }));

/** From two sessions on: one has not moved. */
function trendFigures(shown: readonly Shown[], sessions: readonly Summary[], content: Content, format: Format) {
  return shown.flatMap(({ name, unit, title }) => {
    const points = pointsOf(name, sessions);
    if (points.filter(({ figure }) => figure.value !== null).length < 2) return [];
    const trend = { id: `trend-${name}`, title, unit, points };
    const picture = trendSvg(trend, (ms) => format.date(ms / 1000), content.words);
    return picture ? [{ id: `figure-${name}`, title, ...picture }] : [];
  });
}
