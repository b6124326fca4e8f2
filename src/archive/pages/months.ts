/** `months/YYYY-MM.html`: the sessions of a month as a plain table, so that all are reached where no script runs. */

import { there } from '../../base/there.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import { madeFrom, type PutPage } from './page.ts';
import type { Row } from './rows.ts';

/** Rows of a page; a month with more has several. */
const MOST = 500;

interface MonthPage {
  readonly file: string;
  /** `March 2026`, with the page's number from the second on. */
  readonly title: string;
  readonly rows: readonly Row[];
}

export interface Year {
  readonly year: string;
  readonly months: readonly { readonly link: string; readonly title: string; readonly count: number }[];
}

/** @param rows newest first. Returns the years, newest first, with the pages of their months. */
export async function monthPages(rows: readonly Row[], content: Content, put: PutPage): Promise<Year[]> {
  const all = pagesOf(rows, content);
  const template = pageTemplate(content, 'month.hbs', ['marks', 'status', 'session-rows']);
  for (const [k, { file, title, rows: own }] of all.entries()) {
    const [newer, older] = [all[k - 1], all[k + 1]].map((one) => one && { link: one.file, title: one.title });
    const shown = own.flatMap(({ sha256, vehicleFolder, start }) => [sha256, vehicleFolder ?? '', start]);
    const from = madeFrom(title, JSON.stringify([newer, older]), ...shown);
    await put(`months/${file}`, from, () =>
      template({
        language: content.language,
        policy: contentPolicy(null, true),
        ...{ title, newer, older },
        root: '../',
        rows: own,
      }),
    );
  }
  const years = new Map<string, Year['months'][number][]>();
  for (const { file, title, rows: own } of all) {
    const year = there(own[0]).day.slice(0, 4);
    years.set(year, [...(years.get(year) ?? []), { link: `months/${file}`, title, count: own.length }]);
  }
  return [...years].map(([year, months]) => ({ year, months }));
}

function pagesOf(rows: readonly Row[], content: Content): MonthPage[] {
  const months = new Map<string, Row[]>();
  for (const row of rows) {
    const month = row.day.slice(0, 7);
    const own = months.get(month);
    if (own) own.push(row);
    else months.set(month, [row]);
  }
  const name = new Intl.DateTimeFormat(content.locale, { month: 'long', year: 'numeric', timeZone: 'UTC' });
  return [...months]
    .sort(([a], [b]) => (a < b ? 1 : -1))
    .flatMap(([month, own]) => {
      const title = name.format(new Date(`${month}-01T00:00:00Z`));
      // Filled from the oldest on, so that a new session changes the newest page alone.
      const first = own.length % MOST || MOST;
      const parts: MonthPage[] = [];
      for (let from = 0, to = first; from < own.length; from = to, to += MOST) {
        const number = Math.ceil((own.length - from) / MOST);
        parts.push({
          file: number > 1 ? `${month}-${number}.html` : `${month}.html`,
          title: number > 1 ? `${title} (${number})` : title,
          rows: own.slice(from, to),
        });
      }
      return parts;
    });
}
