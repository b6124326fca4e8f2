import type { Draft, Subject } from '../../src/charts/chart.ts';
import { type ChartInput, draftsOf, sceneOf } from '../../src/charts/charts.ts';
import { sessionOverview } from '../../src/charts/session-overview.ts';

/** All specs of a session, without pictures. */
export function draftCharts({ findings, ...input }: ChartInput & Pick<Subject, 'findings'>): readonly Draft[] {
  const subject = { ...sceneOf(input), findings };
  return [sessionOverview(subject), ...draftsOf(subject)].filter((draft) => draft !== null);
}
