/** The picture of a report's `against_model`: this vehicle as points over the normal ranges. */
import type { Draft } from '../../charts/chart.ts';
import { modelRanges } from '../../charts/model-ranges.ts';
import type { Report } from '../contract/report.ts';
import { formatOf } from '../page/portrait-parts.ts';
import type { Content } from '../words/content.ts';
import { figureName, figureText } from './model-words.ts';
import { MODEL_PICTURE } from './picture-name.ts';
import { alongRange } from './places.ts';

/** What has room beside its caption on a printed page; the table has all. */
const MOST_ROWS = 30;

/** Null where the report was held against nobody. */
export function modelPicture(report: Report, content: Content): Draft | null {
  const { against_model: against } = report;
  if (!against || against.figures.length === 0) return null;
  const format = formatOf(report, content);
  const title = content.words.say('title.portrait-model');
  const rows = against.figures.slice(0, MOST_ROWS).map((one) => ({
    name: figureName(one, content),
    isSeen: one.method === 'seen',
    points: [{ along: alongRange(one), isOutside: one.outside }],
    note: figureText(one, one.value, format),
  }));
  return {
    name: MODEL_PICTURE,
    check: null,
    title,
    spec: modelRanges(rows, title, content.words),
    altFacts: { vehicles: against.vehicles },
  };
}
