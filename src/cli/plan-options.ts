/** The words of `standstill plan`. */
import { type Command, Option } from 'commander';
import { CHEMISTRIES, type Chemistry } from '../battery/chemistry.ts';
import { accuracyOption, countOption, quantityOption } from './quantity-option.ts';

const DAY_S = 86_400;

export interface PlanFlags {
  step?: number;
  rowBytes?: number;
  columns?: number;
  card?: number;
  newFileEvery?: number;
  like?: string;
  eventEvery?: number;
  times: number;
  confidence: number;
  draw?: number;
  capacity?: number;
  charge?: number;
  chemistry?: Chemistry;
  temperature?: number;
  accuracy?: { relative: number; absolute: number };
  resolution?: number;
  noise?: number;
  uncertainty?: number;
  limit?: number;
  json: boolean;
}

export function withPlanOptions(command: Command): Command {
  return command
    .optionsGroup('What the card holds:')
    .addOption(quantityOption('--step <duration>', 'duration', 'from row to row, such as 100ms', { to: DAY_S }))
    .addOption(countOption('--row-bytes <n>', 'bytes of a row, line end included', 1e6))
    .addOption(countOption('--columns <n>', 'values in a row beside its time, where its bytes are not known', 100))
    .option('--like <file>', 'take step and row size from a log of this logger')
    .addOption(quantityOption('--card <size>', 'size', '"2 GB" as printed on cards (2 000 000 000 bytes), or "2 GiB"'))
    .addOption(quantityOption('--new-file-every <duration>', 'duration', 'the logger begins a new file so often'))
    .optionsGroup('How long to log:')
    .addOption(quantityOption('--event-every <duration>', 'duration', 'mean time between the events to be caught'))
    .addOption(countOption('--times <k>', 'how often to see it', 10_000).default(1))
    .addOption(
      quantityOption('--confidence <share>', 'fraction', 'with which confidence', { to: 0.999999 }).default(
        0.95,
        '95 %',
      ),
    )
    .addOption(quantityOption('--uncertainty <current>', 'current', 'to know the mean draw to this (about 95 %)'))
    .addOption(
      quantityOption('--noise <current>', 'current', 'scatter of single readings (standard deviation)', { from: 0 }),
    )
    .optionsGroup('How long the vehicle may stand:')
    .addOption(quantityOption('--draw <current>', 'current', 'expected mean draw while parked', { from: 0 }))
    .addOption(quantityOption('--capacity <charge>', 'charge', '20-hour rating of the battery'))
    .addOption(quantityOption('--charge <share>', 'fraction', 'state of charge at the start', { to: 1 }))
    .addOption(new Option('--chemistry <kind>', 'kind of battery').choices(CHEMISTRIES))
    .addOption(quantityOption('--temperature <temperature>', 'temperature', 'of the battery', { from: -40, to: 80 }))
    .optionsGroup('Whether the sensor can decide:')
    .addOption(accuracyOption('--accuracy <text>', 'current', 'as its maker states it, such as "1 % + 5 mA"'))
    .addOption(quantityOption('--resolution <current>', 'current', 'smallest step between readings'))
    .addOption(quantityOption('--limit <current>', 'current', 'largest draw allowed once asleep'))
    .optionsGroup('Options:')
    .option('--json', 'answer as JSON', false);
}
