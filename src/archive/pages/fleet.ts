/** `fleet.html`: all vehicles at one look: what is wrong with how many, which draw most, and whose fault waits longest. */

import { lastOf } from '../../base/there.ts';
import { checkList } from '../../report/page/check-list.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import { measureName } from '../measures.ts';
import type { Model } from '../models/models.ts';
import { figureOf, type Summary } from '../summary/summary.ts';
import type { Vehicle } from '../vehicles/vehicles.ts';
import { madeFrom, type PutPage } from './page.ts';
import { compare, formatsOf, STATUSES } from './rows.ts';

/** Rows of a list. */
const MOST = 25;
const DRAW = 'sleep-draw';

/** A vehicle as its last session shows it; a session that belongs to no vehicle stands for itself. */
interface Standing {
  readonly last: Summary;
  readonly vehicle: Vehicle<Summary> | null;
}

export async function fleetPage(
  summaries: readonly Summary[],
  vehicles: readonly Vehicle<Summary>[],
  models: readonly Model[],
  content: Content,
  put: PutPage,
): Promise<void> {
  const view = { ...fleetView(summaries, vehicles, content), models: models.map(modelLine) };
  const html = pageTemplate(content, 'fleet.hbs', ['marks', 'status'])(view);
  await put('fleet.html', madeFrom(html), () => html);
}

const modelLine = ({ file, name, sessions, healthy }: Model) => ({
  name,
  link: `models/${file}`,
  sessions: sessions.length,
  healthy: healthy.length,
});

function fleetView(summaries: readonly Summary[], vehicles: readonly Vehicle<Summary>[], content: Content) {
  const known = new Set(vehicles.flatMap(({ sessions }) => sessions));
  const standings: Standing[] = [
    ...vehicles.map((vehicle) => ({ vehicle, last: lastOf(vehicle.sessions) })),
    ...summaries.flatMap((last) => (known.has(last) ? [] : [{ vehicle: null, last }])),
  ];
  const formatOf = formatsOf(content);
  const line = ({ last, vehicle }: Standing) => {
    const format = formatOf(last.session.timezone);
    const { value, uncertainty, limit } = figureOf(last, DRAW);
    return {
      name: vehicle?.name ?? last.session.title,
      link: vehicle ? `vehicles/${vehicle.folder}/index.html` : null,
      description: last.session.vehicle.description,
      session: `sessions/${encodeURIComponent(last.session.id)}/index.html`,
      date: format.date(Date.parse(last.log.start) / 1000),
      status: last.status,
      headlines: last.headlines,
      draw: value === null ? '–' : format.quantity(value, 'A', uncertainty),
      limit: limit === null ? '–' : format.limit(limit, 'A'),
      stand: last.standS === null ? '–' : format.duration(last.standS),
    };
  };
  const drawOf = ({ last }: Standing) => figureOf(last, DRAW).value ?? Number.NEGATIVE_INFINITY;
  const drawing = standings.filter((one) => drawOf(one) > 0).sort((a, b) => drawOf(b) - drawOf(a));
  const waiting = standings
    .filter(({ last }) => last.status === 'fault')
    .sort((a, b) => compare(a.last.log.start, b.last.log.start));
  return {
    language: content.language,
    policy: contentPolicy(null, true),
    counts: STATUSES.map((status) => ({
      status,
      count: standings.filter(({ last }) => last.status === status).length,
    })),
    checks: byCheck(summaries, standings, content),
    drawTitle: measureName(DRAW, content),
    drawing: drawing.slice(0, MOST).map(line),
    waiting: waiting.slice(0, MOST).map(line),
    ...{ vehicles: standings.length, sessions: summaries.length, waits: waiting.length },
  };
}

function byCheck(summaries: readonly Summary[], standings: readonly Standing[], content: Content) {
  const count = (lists: readonly Summary[], check: string, status: string) =>
    lists.filter(({ found }) => found.some((one) => one.check === check && one.status === status)).length;
  const lasts = standings.map(({ last }) => last);
  const counted = namesOf(summaries, content).map(({ check, name }) => ({
    name,
    link: `index.html#checks=${encodeURIComponent(check)}`,
    faults: count(lasts, check, 'fault'),
    watches: count(lasts, check, 'watch'),
    ever: summaries.filter(({ found }) => found.some((one) => one.check === check)).length,
  }));
  return counted.sort((a, b) => b.faults - a.faults || b.watches - a.watches || b.ever - a.ever);
}

/** Checks that found something in any session, by their names in the pages' language; one that is no more keeps its own. */
export function namesOf(summaries: readonly Summary[], content: Content) {
  const ours = new Map(checkList(content).map(({ check, name }) => [check, name]));
  const names = new Map<string, string>();
  for (const { found } of summaries)
    for (const { check, name } of found) if (!names.has(check)) names.set(check, ours.get(check) ?? name);
  return [...names].map(([check, name]) => ({ check, name })).sort((a, b) => compare(a.name, b.name));
}
