/** Voltage of each drive against the battery's temperature and its charging window; against time where no temperature is known. */
import { chargingWindowV } from '../battery/charging.ts';
import { type Draft, findingOf, panel, rows, type Subject, timeX, topLevel, valueX, valueY } from './chart.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, GREY, PALE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'charging';

export function charging(subject: Subject): Draft | null {
  const { analysis, session, words, clock } = subject;
  const drives = analysis.drives.filter((drive) => Number.isFinite(drive.voltsMedian));
  if (drives.length === 0) return null;
  const byTemperature = drives.every((drive) => drive.temperatureC !== null);
  const degrees = drives.map((drive) => drive.temperatureC ?? 0);
  const xTicks = niceTicks(Math.min(...degrees) - 3, Math.max(...degrees) + 3, 7);
  const x = byTemperature
    ? valueX('t', numberTicks(xTicks.values, words), xTicks.domain, words.say('axis.temperature'))
    : timeX(subject, analysis.start, analysis.end);

  const ends = byTemperature ? xTicks.values : [analysis.start, analysis.end];
  const window = ends.map((end) => {
    const { minV, maxV } = windowAt(subject, byTemperature ? end : null);
    return { t: byTemperature ? end : clock.x(end), lo: rounded(minV), hi: rounded(maxV) };
  });
  const points = drives.map((drive) => ({
    t: byTemperature ? rounded(drive.temperatureC ?? 0) : clock.x((drive.start + drive.end) / 2),
    y: rounded(drive.voltsMedian),
    lo: rounded(drive.voltsLow?.value ?? drive.voltsMedian),
    hi: rounded(drive.voltsHigh?.value ?? drive.voltsMedian),
  }));
  const all = [...window, ...points].flatMap(({ lo, hi }) => [lo, hi]);
  const yTicks = niceTicks(Math.min(...all) - 0.1, Math.max(...all) + 0.1, 5);
  const y = (field: string) => valueY(field, numberTicks(yTicks.values, words), yTicks.domain);
  const layer = [
    { data: rows(window), mark: { type: 'area', color: PALE }, encoding: { x, y: y('lo'), y2: { field: 'hi' } } },
    ...['lo', 'hi'].map((field) => ({
      data: rows(window),
      mark: { type: 'line', color: GREY, strokeDash: [5, 3], strokeWidth: 1.2 },
      encoding: { x, y: y(field) },
    })),
    {
      data: rows([{ ...window[0], label: words.say('mark.window') }]),
      mark: { type: 'text', align: 'left', baseline: 'top', dx: 6, dy: 7, fontWeight: 600 },
      encoding: { x, y: y('hi'), text: { field: 'label' } },
    },
    {
      data: rows(points),
      mark: { type: 'rule', color: BLUE, strokeWidth: 1.5 },
      encoding: { x, y: y('lo'), y2: { field: 'hi' } },
    },
    {
      data: rows(points),
      mark: { type: 'point', shape: 'circle', filled: true, size: 60, color: BLUE, opacity: 1 },
      encoding: { x, y: y('y') },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: findingOf(subject.findings, 'charging-high')?.status === 'fault' ? 'charging-high' : 'charging-low',
    title,
    spec: topLevel(
      title,
      panel({ title: words.say('axis.voltage'), note: words.say('note.charging'), height: 190, layer }),
    ),
    altFacts: {
      drives: drives.length,
      lowestMedianV: Math.min(...drives.map((drive) => drive.voltsMedian)),
      highestMedianV: Math.max(...drives.map((drive) => drive.voltsMedian)),
      chemistry: session.battery.chemistry,
    },
  };
}

/** What the manifest sets stands in place of the table's window, at every temperature. */
function windowAt({ session }: Subject, temperatureC: number | null) {
  const { minV, usualV, mostV } = chargingWindowV({
    chemistry: session.battery.chemistry,
    systemV: session.vehicle.systemV,
    temperatureC,
  });
  return {
    minV: session.limits.chargingVoltageMin?.value ?? minV,
    maxV: session.limits.chargingVoltageMax?.value ?? usualV ?? mostV ?? minV + 1.5,
  };
}
