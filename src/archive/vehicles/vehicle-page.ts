/** A vehicle's page: its sessions in order, and how its figures moved. */
import { hexHashOf } from '../../base/bytes.ts';
import { zoneOf } from '../../base/zone.ts';
import type { DrawSvg } from '../../charts/drawing/draw.ts';
import type { Unit } from '../../measures/limit.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { pageTemplate } from '../../report/page/template.ts';
import { headlines, MARK_OF } from '../../report/summary.ts';
import type { Content } from '../../report/words/content.ts';
import { makeFormat } from '../../report/words/format.ts';
import { pairName } from '../comparison/pairs.ts';
import { MEASURES, type Measure, measureName, reading } from '../measures.ts';
import type { StoredReport } from '../stored-report.ts';
import { driftOf } from './drift.ts';
import { trendChart } from './trend-chart.ts';
import type { Vehicle } from './vehicles.ts';

/** What a vehicle is followed by over the years. */
const FOLLOWED = MEASURES.filter(({ followed }) => followed);

export interface VehiclePage {
  /** Hash of all that the page shows. */
  readonly madeFrom: string;
  /** Charts cost more than everything else here. */
  html(draw: DrawSvg): Promise<string>;
}

/** @param compared names of the comparisons that there are */
export function vehiclePage(vehicle: Vehicle, compared: readonly string[], content: Content): VehiclePage {
  const page = pageTemplate(content, 'vehicle.hbs', ['marks', 'status', 'figure']);
  const policy = contentPolicy(null, true);
  const view = { ...vehicleView(vehicle, compared, content), policy, language: content.language };
  // Of all that the figures are drawn from, and of every word around them.
  const madeFrom = hexHashOf(JSON.stringify([view, page(view)]));
  return {
    madeFrom,
    html: async (draw) => page({ ...view, figures: await trendFigures(vehicle, content, draw), madeFrom }),
  };
}

function vehicleView({ name, sessions }: Vehicle, compared: readonly string[], content: Content) {
  const last = sessions[sessions.length - 1].session;
  const facts: [string, string | null][] = [
    ['vehicle', last.vehicle.description],
    ['registration', last.vehicle.registration],
    ['vin', last.vehicle.vin],
  ];
  return {
    title: name,
    facts: facts.flatMap(([key, value]) => (value ? [{ key, value }] : [])),
    measures: FOLLOWED.map(({ name }) => measureName(name, content)),
    rows: sessions.map((report) => sessionRow(report, content)),
    drifts: FOLLOWED.flatMap((measure) => driftRow(measure, sessions, content)),
    comparisons: sessions.flatMap((before, k) =>
      sessions.slice(k + 1).flatMap((after) => {
        const pair = pairName(before.session.id, after.session.id);
        if (!compared.includes(pair)) return [];
        const link = `../../comparisons/${encodeURIComponent(pair)}/index.html`;
        return [{ link, before: before.session.title, after: after.session.title }];
      }),
    ),
  };
}

function sessionRow(report: StoredReport, content: Content) {
  const { session, log, findings } = report;
  const format = formatOf(report, content);
  const odometerKm = session.vehicle.odometer_km;
  return {
    link: `../../sessions/${encodeURIComponent(session.id)}/index.html`,
    title: session.title,
    date: format.date(Date.parse(log.start) / 1000),
    purpose: session.purpose,
    repairOrder: session.repair_order,
    status: MARK_OF[headlines(findings).situation],
    odometer: odometerKm === null ? '–' : `${format.number(odometerKm, 0)}\u00a0km`,
    values: FOLLOWED.map(({ name, unit }) => {
      const { value, uncertainty } = reading(name, report);
      return value === null ? '–' : format.quantity(value, unit as Unit, uncertainty);
    }),
  };
}

/** How a figure stands to the vehicle's first sessions; none where there are too few. */
function driftRow({ name, unit }: Measure, sessions: readonly StoredReport[], content: Content) {
  const format = formatOf(sessions[sessions.length - 1], content);
  const drift = driftOf(pointsOf(name, sessions));
  if (!drift) return [];
  const { usual, last, sinceMs, perYear } = drift;
  const write = (value: number, U?: number) => format.quantity(value, unit as Unit, U);
  return [
    {
      name: measureName(name, content),
      usual: write(usual),
      last: write(last),
      since: sinceMs === null ? '–' : format.date(sinceMs / 1000),
      perYear: perYear === null ? '–' : write(perYear.value, perYear.U),
    },
  ];
}

const pointsOf = (name: string, sessions: readonly StoredReport[]) =>
  sessions.map((report) => ({ atMs: Date.parse(report.log.start), reading: reading(name, report) }));

async function trendFigures({ folder, sessions }: Vehicle, content: Content, draw: DrawSvg) {
  const format = formatOf(sessions[sessions.length - 1], content);
  const trends = FOLLOWED.map(({ name, unit }) => ({
    title: measureName(name, content),
    unit: unit as Unit,
    points: pointsOf(name, sessions),
  }));
  const title = content.label('vehicle.trend');
  const spec = trendChart(title, trends, (ms) => format.date(ms / 1000), content.words);
  if (!spec) return [];
  const svg = await draw(spec, { title, desc: title, idPrefix: `trend-${folder}` });
  return [{ id: 'figure-trend', number: 1, conclusion: title, title, svg }];
}

function formatOf({ session }: StoredReport, content: Content) {
  return makeFormat(content.locale, zoneOf(session.timezone), content.label('unknown'));
}
