/** Tables of the portrait. */
import type { Report } from '../contract/report.ts';
import { between, chanceText, figureName, figureText, rangeText } from '../model/model-words.ts';
import type { Content } from '../words/content.ts';
import type { Format } from '../words/format.ts';
import type { PageWords } from './page-words.ts';
import { type TableView, table } from './table-view.ts';

/** Each figure over the model's normal range, the most unusual first. */
export function modelTable(against: NonNullable<Report['against_model']>, { content, format }: PageWords): TableView {
  const rows = against.figures.map((one) => [
    figureName(one, content),
    figureText(one, one.value, format),
    rangeText(one, one, format),
    format.number(one.vehicles, 0),
    placeText(one, content),
    chanceText(one.chance, format, content),
  ]);
  return table(
    'model-figures',
    'model.figures',
    ['model.figure', 'findings.value#', 'model.range#', 'model.vehicles#', 'model.place', 'model.chance#'],
    rows,
    { csv: 'tables/against-model.csv' },
  );
}

function placeText(
  { method, outside, value, low, high }: NonNullable<Report['against_model']>['figures'][number],
  content: Content,
): string {
  if (method !== 'seen') return content.label(outside ? 'model.is_outside' : 'model.is_within');
  if (value < low) return content.label('model.below_seen');
  return content.label(value > high ? 'model.above_seen' : 'model.within_seen');
}

type Portrait = NonNullable<Report['portrait']>;

/** By the part of the portrait that they stand in. */
export function portraitTables(portrait: Portrait, words: PageWords): Readonly<Record<string, readonly TableView[]>> {
  return {
    week: [daysTable(portrait, words)],
    states: [statesTable(portrait, words)],
    sleep: [stepsTable(portrait, words)],
    charging: portrait.put_back.length > 0 ? [putBackTable(portrait, words)] : [],
    temperature: [temperatureTable(portrait, words)],
    circuits: [circuitsTable(portrait, words)],
  };
}

/** Levels of a draw are mA, of a drive A. */
const amps = (value: number | null | undefined, format: Format) =>
  value == null ? '–' : `${value > 0 ? '+' : ''}${format.quantity(value, 'A')}`;

function daysTable({ days }: Portrait, { content, format }: PageWords): TableView {
  const calendar = new Intl.DateTimeFormat(content.locale, {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    timeZone: 'UTC',
  });
  const hasTemperature = days.some(({ temperature_min_c }) => temperature_min_c !== null);
  const hasCharger = days.some(({ charger_ah }) => charger_ah > 0);
  let sumAh = 0;
  const rows = days.map((day) => {
    sumAh += day.charge_in_ah + day.charger_ah - day.charge_out_ah;
    return [
      calendar.format(Date.parse(day.date)),
      day.driving_s > 0 ? format.duration(day.driving_s) : '–',
      format.Ah(day.charge_in_ah),
      format.Ah(day.charge_out_ah),
      ...(hasCharger ? [day.charger_ah > 0 ? format.Ah(day.charger_ah) : '–'] : []),
      `${sumAh > 0 ? '+' : ''}${format.Ah(sumAh)}`,
      day.voltage_min_v === null ? '–' : format.V(day.voltage_min_v),
      ...(hasTemperature
        ? [
            day.temperature_min_c === null
              ? '–'
              : between(format.temp(day.temperature_min_c), format.temp(day.temperature_max_c)),
          ]
        : []),
    ];
  });
  const charger = hasCharger ? ['period.on-charger#'] : [];
  return table(
    'portrait-days',
    'portrait.days',
    [
      'portrait.day',
      'portrait.driven#',
      'session.in#',
      'session.out#',
      ...charger,
      'portrait.sum#',
      'tables.lowest#',
      ...(hasTemperature ? ['tables.temperature#'] : []),
    ],
    rows,
    { csv: 'tables/portrait.csv' },
  );
}

function statesTable({ states, top_ups }: Portrait, { content, format }: PageWords): TableView {
  const volts = ({ p05, p95 }: { readonly p05: number | null; readonly p95: number | null }) =>
    between(format.V(p05), format.V(p95));
  const rows = states.map(({ kind, share, current_a, voltage_v, current_u_a, voltage_u_v }) => [
    content.label(`period.${kind}`),
    format.percent(share),
    current_a ? `${current_a.p50 > 0 ? '+' : ''}${format.quantity(current_a.p50, 'A', current_u_a)}` : '–',
    current_a ? between(amps(current_a.p05, format), amps(current_a.p95, format)) : '–',
    format.V(voltage_v.p50, voltage_u_v),
    volts(voltage_v),
  ]);
  const { while_current_a: current, while_voltage_v: voltage } = top_ups;
  const awake = states.findIndex(({ kind }) => kind === 'awake');
  if (top_ups.count > 0)
    rows.splice(awake + 1, 0, [
      content.label('portrait.top_up'),
      format.percent(top_ups.share),
      amps(current.p50, format),
      between(amps(current.p05, format), amps(current.p95, format)),
      format.V(voltage.p50),
      volts(voltage),
    ]);
  return table(
    'portrait-states',
    'portrait.states',
    [
      'session.kind',
      'session.share#',
      'portrait.current#',
      'portrait.current_range#',
      'portrait.voltage#',
      'portrait.voltage_range#',
    ],
    rows,
  );
}

function stepsTable({ shutdown, settlings }: Portrait, { format }: PageWords): TableView {
  const rows = shutdown.map(({ level_a, seconds, level_range_a, seconds_range, count }, at) => [
    String(at + 1),
    format.quantity(level_a, 'A'),
    between(format.quantity(level_range_a.p05, 'A'), format.quantity(level_range_a.p95, 'A')),
    format.duration(seconds),
    between(format.duration(seconds_range.p05), format.duration(seconds_range.p95)),
    `${count} / ${settlings.count}`,
  ]);
  return table(
    'portrait-steps',
    'portrait.steps',
    ['portrait.step', 'portrait.level#', 'portrait.range#', 'portrait.lasts#', 'portrait.range#', 'portrait.seen#'],
    rows,
  );
}

function putBackTable({ put_back }: Portrait, { format }: PageWords): TableView {
  const rows = put_back.map(({ minutes, drives, charge_ah }) => [
    format.duration(60 * minutes),
    format.Ah(charge_ah.p50),
    between(format.Ah(charge_ah.p05), format.Ah(charge_ah.p95)),
    format.number(drives, 0),
  ]);
  return table(
    'portrait-put-back',
    'portrait.put_back',
    ['portrait.after', 'portrait.net#', 'portrait.range#', 'portrait.drives#'],
    rows,
  );
}

function temperatureTable({ charging_by_temperature: parts }: Portrait, { format }: PageWords): TableView {
  const rows = parts.map(({ from_c, to_c, seconds, drives, voltage_v, current_a }) => [
    between(format.temp(from_c), format.temp(to_c)),
    format.duration(seconds),
    format.number(drives, 0),
    format.V(voltage_v.p50),
    between(format.V(voltage_v.p05), format.V(voltage_v.p95)),
    current_a ? amps(current_a.p50, format) : '–',
  ]);
  return table(
    'portrait-temperature',
    'portrait.temperature',
    [
      'portrait.battery_at',
      'portrait.driven#',
      'tables.drives#',
      'portrait.voltage#',
      'portrait.voltage_range#',
      'portrait.current#',
    ],
    rows,
  );
}

/** Kinds of period in which it is told how long a circuit is on. */
const SHOWN = ['driving', 'settling', 'awake', 'asleep'];

function circuitsTable({ circuits }: Portrait, { format }: PageWords): TableView {
  const kinds = SHOWN.filter((kind) => circuits.some(({ on_share }) => on_share[kind] !== undefined));
  const range = (spread: { readonly p05: number; readonly p95: number } | null, write: (value: number) => string) =>
    spread ? between(write(spread.p05), write(spread.p95)) : '–';
  const rows = circuits.map((circuit) => [
    circuit.channel,
    ...kinds.map((kind) => format.percent(circuit.on_share[kind] ?? null)),
    circuit.off_after_key_off_s ? format.duration(circuit.off_after_key_off_s.p50) : '–',
    circuit.on_after_key_on_s ? since(circuit.on_after_key_on_s.p50, format) : '–',
    format.number(circuit.pulses, 0),
    range(circuit.voltage_on_v, (volts) => format.V(volts)),
  ]);
  return table(
    'portrait-circuits',
    'portrait.circuits',
    [
      'tables.channel',
      ...kinds.map((kind) => `period.${kind}#`),
      'portrait.dark_after#',
      'portrait.on_after#',
      'portrait.pulses#',
      'portrait.voltage_on#',
    ],
    rows,
  );
}

const since = (seconds: number, format: Format) => `${seconds < 0 ? '−' : '+'}${format.duration(Math.abs(seconds))}`;
