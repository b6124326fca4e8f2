/** `models/NAME.html`: the vehicles of a model, what is normal for it, and who lies outside. */
import type { Unit } from '../../measures/limit.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import type { Format } from '../../report/words/format.ts';
import { madeFrom, type PutPage } from '../pages/page.ts';
import { formatsOf } from '../pages/rows.ts';
import type { ModelValue, Summary } from '../summary/summary.ts';
import type { Vehicle } from '../vehicles/vehicles.ts';
import { type FigureRow, type Model, type Placed, placesOf, rangeOf, valueKey, valuesOf } from './models.ts';
import { placesSvg } from './places-svg.ts';

/** Rows of the table of vehicles: the newest sessions. */
const MOST = 200;

export async function modelPages(
  models: readonly Model[],
  vehicles: readonly Vehicle<Summary>[],
  hashes: ReadonlyMap<Summary, string>,
  content: Content,
  put: PutPage,
): Promise<void> {
  const template = pageTemplate(content, 'model.hbs', ['marks', 'status']);
  for (const model of models) {
    const from = madeFrom(...model.sessions.map((one) => hashes.get(one) ?? ''));
    await put(`models/${model.file}`, from, () => template(modelView(model, vehicles, content)));
  }
}

function modelView(model: Model, vehicles: readonly Vehicle<Summary>[], content: Content) {
  const { name, sessions, healthy } = model;
  const formatOf = formatsOf(content);
  const placed = sessions.map((summary) => ({ summary, places: placesOf(summary, healthy) }));
  const format = formatOf(sessions.at(-1)?.session.timezone ?? 'UTC');
  const outside = placed.flatMap(({ summary, places }) =>
    places.filter(({ isOutside }) => isOutside).map((place) => ({ summary, place })),
  );
  const figures = figuresOf(model, content, format);
  return {
    language: content.language,
    policy: contentPolicy(null, true),
    title: name,
    counts: content
      .label('model.counted')
      .replace('{sessions}', format.number(sessions.length, 0))
      .replace('{healthy}', format.number(healthy.length, 0)),
    figures,
    picture: placesSvg(placed, figures, content),
    outside: outside
      .sort((a, b) => (a.place.chance ?? 1) - (b.place.chance ?? 1))
      .map(({ summary, place }) => ({
        ...lineOf(summary, vehicles, formatOf),
        figure: nameOf(place, content),
        value: write(place, place.value, format),
        range: rangeText(place, format),
        chance: chanceText(place, format, content),
      })),
    rows: placed.slice(-MOST).map(({ summary, places }) => ({
      ...lineOf(summary, vehicles, formatOf),
      status: summary.status,
      isHealthy: healthy.includes(summary),
      held: format.number(places.filter(({ range }) => range.method !== 'seen').length, 0),
      outside: format.number(places.filter(({ isOutside }) => isOutside).length, 0),
    })),
  };
}

function lineOf(summary: Summary, vehicles: readonly Vehicle<Summary>[], formatOf: (timezone: string) => Format) {
  const { session, log } = summary;
  const vehicle = vehicles.find((one) => one.sessions.includes(summary));
  return {
    name: vehicle?.name ?? session.vehicle.registration ?? session.title,
    page: vehicle ? `../vehicles/${vehicle.folder}/index.html` : null,
    session: `../sessions/${encodeURIComponent(session.id)}/index.html`,
    title: session.title,
    purpose: session.purpose,
    date: formatOf(session.timezone).date(Date.parse(log.start) / 1000),
  };
}

/** Each figure that a healthy vehicle of the model has, in the report's order. */
function figuresOf({ healthy }: Model, content: Content, format: Format): FigureRow[] {
  const known = new Map(healthy.flatMap(({ ofModel }) => ofModel.map((value) => [valueKey(value), value] as const)));
  const systemV = healthy[0]?.session.vehicle.system_voltage_v ?? 12;
  return [...known].flatMap(([key, value]) => {
    const range = rangeOf(value, valuesOf(healthy, key), systemV);
    if (!range) return [];
    return [
      {
        key,
        name: nameOf(value, content),
        n: format.number(range.n, 0),
        range: `${write(value, range.low, format)} … ${write(value, range.high, format)}`,
        method: content.label(`model.${range.method}`),
      },
    ];
  });
}

export function nameOf({ figure, of }: Pick<ModelValue, 'figure' | 'of'>, content: Content): string {
  const name = content.label(`figure.${figure}`);
  return of === null || figure === 'state-current' ? name : `${name}, ${ofText(figure, of)}`;
}

/** `1/3` is a step, `2-5` minutes of a drive, anything else a circuit's label. */
const ofText = (figure: string, of: string) =>
  figure === 'charging-voltage' ? `${of.replace('-', '–').replace(/–$/, '+')} min` : of;

const write = ({ unit }: Pick<ModelValue, 'unit'>, value: number, format: Format) =>
  format.quantity(unit === 'min' ? value * 60 : value, (unit === 'min' ? 's' : unit) as Unit);

const rangeText = (place: Placed, format: Format) =>
  `${write(place, place.range.low, format)} … ${write(place, place.range.high, format)}`;

function chanceText({ chance }: Placed, format: Format, content: Content): string {
  if (chance === null) return '–';
  return chance < 0.001 ? content.label('model.rare') : format.percent(chance);
}
