/** `models/NAME.html`: the vehicles of a model, what is normal for it, and who lies outside; its picture is `NAME.vl.json` too. */
import type { DrawSvg } from '../../charts/drawing/draw.ts';
import { modelRanges } from '../../charts/model-ranges.ts';
import { chanceText, figureName, figureText, rangeText } from '../../report/model/model-words.ts';
import { alongRange, type Placed, rangeOf, valuesOf } from '../../report/model/places.ts';
import { valueKey } from '../../report/model/values.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import type { Format } from '../../report/words/format.ts';
import { madeFrom, type PutPage } from '../pages/page.ts';
import { formatsOf } from '../pages/rows.ts';
import type { Summary } from '../summary/summary.ts';
import type { Vehicle } from '../vehicles/vehicles.ts';
import { type Model, normalOnes, placedIn } from './models.ts';

/** Rows of the table of vehicles: the newest sessions. */
const MOST = 200;
/** Rows of the picture. */
const MOST_ROWS = 40;

/** A figure of the model, in words. */
interface FigureRow {
  readonly key: string;
  readonly name: string;
  readonly n: string;
  readonly range: string;
  readonly isSeen: boolean;
  readonly method: string;
}

interface PlacedSession {
  readonly summary: Summary;
  readonly places: readonly Placed[];
}

export interface ModelsShown {
  readonly models: readonly Model[];
  readonly vehicles: readonly Vehicle<Summary>[];
  /** Of what each summary was made from. */
  readonly hashes: ReadonlyMap<Summary, string>;
  readonly content: Content;
  readonly drawSvg: DrawSvg;
}

export async function modelPages(shown: ModelsShown, put: PutPage): Promise<void> {
  const { models, vehicles, hashes, content, drawSvg } = shown;
  const template = pageTemplate(content, 'model.hbs', ['marks', 'status']);
  for (const model of models) {
    const from = madeFrom(...model.sessions.map((one) => hashes.get(one) ?? ''));
    const spec = pictureOf(model, content);
    const svg = async () => {
      const title = content.label('model.picture');
      return spec && drawSvg(spec, { title, desc: title, idPrefix: 'model-places' });
    };
    const page = async () => template(modelView(model, vehicles, await svg(), content));
    await put(`models/${model.file}`, from, page);
    if (spec)
      await put(
        `models/${model.file.replace(/\.html$/, '.vl.json')}`,
        from,
        () => `${JSON.stringify(spec, null, 1)}\n`,
      );
  }
}

const placesIn = ({ sessions, healthy }: Model): PlacedSession[] => {
  const normal = normalOnes(healthy);
  return sessions.map((summary) => ({ summary, places: placedIn(summary, normal) }));
};

/** Each vehicle over the normal ranges; null where there is nothing to place. */
function pictureOf(model: Model, content: Content) {
  const format = formatsOf(content)('UTC');
  const placed = placesIn(model);
  const rows = figuresOf(model, content, format)
    .slice(0, MOST_ROWS)
    .map(({ key, name, isSeen }) => {
      const own = placed.flatMap(({ summary, places }) => {
        const place = places.find((one) => valueKey(one) === key);
        return place ? [{ summary, place }] : [];
      });
      const outside = own.filter(({ place }) => place.isOutside).map(({ summary }) => shortName(summary));
      const points = own.map(({ place }) => ({
        along: alongRange({ ...place, ...place.range }),
        isOutside: place.isOutside,
      }));
      return { name, isSeen, points, note: [...new Set(outside)].join(', ') };
    });
  if (rows.every(({ points }) => points.length === 0)) return null;
  return modelRanges(rows, content.label('model.picture'), content.words);
}

const shortName = ({ session }: Summary) => session.vehicle.registration ?? session.id;

function modelView(model: Model, vehicles: readonly Vehicle<Summary>[], picture: string | null, content: Content) {
  const { name, sessions, healthy } = model;
  const formatOf = formatsOf(content);
  const placed = placesIn(model);
  const format = formatOf(sessions.at(-1)?.session.timezone ?? 'UTC');
  const outside = placed.flatMap(({ summary, places }) =>
    places.filter(({ isOutside }) => isOutside).map((place) => ({ summary, place })),
  );
  return {
    language: content.language,
    policy: contentPolicy(null, true),
    title: name,
    counts: content
      .label('model.counted')
      .replace('{sessions}', format.number(sessions.length, 0))
      .replace('{healthy}', format.number(healthy.length, 0)),
    figures: figuresOf(model, content, format),
    picture,
    outside: outside
      .sort((a, b) => (a.place.chance ?? 1) - (b.place.chance ?? 1))
      .map(({ summary, place }) => ({
        ...lineOf(summary, vehicles, formatOf),
        figure: figureName(place, content),
        value: figureText(place, place.value, format),
        range: rangeText(place, place.range, format),
        chance: chanceText(place.chance, format, content),
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
  const normal = normalOnes(healthy).map(({ ofModel }) => ofModel);
  return [...known].flatMap(([key, value]) => {
    const range = rangeOf(value, valuesOf(normal, key), systemV);
    if (!range) return [];
    return [
      {
        key,
        name: figureName(value, content),
        n: format.number(range.n, 0),
        range: rangeText(value, range, format),
        isSeen: range.method === 'seen',
        method: content.label(`model.${range.method}`),
      },
    ];
  });
}
