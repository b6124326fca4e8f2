/** The sample report, printed by a browser; undefined path: there is none on this machine. */
import { openPrinter } from '../../src/report/pdf/browser.ts';
import { browserPath } from './browser-here.ts';
import { renderPage } from './render-page.ts';
import { sampleContent, sampleReport } from './sample.ts';

const chart = (name: string, check: string | null) => ({
  name,
  check,
  title: name,
  svg: `<svg role="img" aria-labelledby="${name}-t" width="720" height="90" viewBox="0 0 720 90"><title id="${name}-t">What ${name} shows</title><path d="M0 0L720 90" stroke="#000"/></svg>`,
});

export async function printSample(): Promise<{ html: string; pdf: Buffer }> {
  const charts = [
    chart('session-overview', null),
    chart('parked-draw', 'parked-draw'),
    chart('limit-parked-draw', 'parked-draw'),
  ];
  const html = renderPage(sampleReport(), charts, { pageSize: 'a4', content: sampleContent() });
  const printer = await openPrinter({ browserPath });
  try {
    return { html, pdf: await printer.print({ name: 'sample', html, pageSize: 'a4', dateMs: 0 }) };
  } finally {
    await printer.close();
  }
}
