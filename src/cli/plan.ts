/** `standstill plan`: what the card holds, how long to log, and how long the vehicle may stand, before anything is fitted. */

import { basename, resolve } from 'node:path';
import { readSample } from '../log/sample/sample.ts';
import { type PlanAsked, planAnswer } from '../measures/plan.ts';
import { diskIo } from '../node/disk-io.ts';
import { type Format, makeFormat } from '../report/words/format.ts';
import type { PlanFlags } from './plan-options.ts';
import { inWords, type SaidAnswer } from './plan-words.ts';
import type { Terminal } from './terminal.ts';
import { wrap } from './wrap.ts';

export async function plan(flags: PlanFlags, terminal: Terminal): Promise<0> {
  const sample = flags.like === undefined ? undefined : await sampled(flags.like);
  const asked = askedBy(flags, sample);
  const answer = inWords(planAnswer(asked), asked);
  const taken = [...(sample ? [sample.said] : []), ...answer.taken];
  if (flags.json) terminal.out(`${JSON.stringify({ ...answer, taken }, null, 2)}\n`);
  else terminal.out(`${words({ ...answer, taken }, asked, terminal.columns).join('\n')}\n`);
  return 0;
}

function askedBy(flags: PlanFlags, sample: { stepS?: number; rowBytes: number } | undefined): PlanAsked {
  return {
    stepS: flags.step ?? sample?.stepS,
    rowBytes: flags.rowBytes ?? (flags.columns === undefined ? sample?.rowBytes : undefined),
    columns: flags.columns,
    cardBytes: flags.card,
    fileS: flags.newFileEvery,
    eventEveryS: flags.eventEvery,
    times: flags.times,
    confidence: flags.confidence,
    drawA: flags.draw,
    capacityAh: flags.capacity,
    charge: flags.charge,
    chemistry: flags.chemistry,
    temperatureC: flags.temperature,
    accuracy: flags.accuracy,
    noiseA: flags.noise,
    resolutionA: flags.resolution,
    uncertaintyA: flags.uncertainty,
    limitA: flags.limit,
  };
}

async function sampled(path: string) {
  const sample = await readSample(resolve(path), basename(path), diskIo);
  const step = sample.stepS === null ? 'their step could not be read (give --step)' : `one each ${sample.stepS} s`;
  const said = `From ${basename(path)}: ${sample.rows} rows of ${sample.rowBytes.toFixed(1)} bytes, ${step}.`;
  return { stepS: sample.stepS ?? undefined, rowBytes: sample.rowBytes, said };
}

const LABEL = 13;

function words(answer: SaidAnswer, asked: PlanAsked, columns: number): string[] {
  const format = makeFormat('en-GB', { offsetMs: () => 0 });
  const hours = (h: number) =>
    h < 48 ? format.duration(h * 3600) : `${format.number(h, 0)} h, ${format.days(h * 3600)}`;
  const rows: [string, string][] = [
    [
      'card',
      answer.hours_on_card === null
        ? open(answer, 'hours_on_card')
        : `holds ${hours(answer.hours_on_card)}${ofBytes(asked, format)}`,
    ],
    [
      'log',
      answer.hours_to_see === null
        ? open(answer, 'hours_to_see')
        : `${hours(answer.hours_to_see)} ${toSeeWords(asked, format)}`,
    ],
    [
      '',
      answer.hours_to_measure === null
        ? open(answer, 'hours_to_measure', 'for a draw to a given uncertainty: ')
        : `${hours(answer.hours_to_measure)} to know a draw of ${format.mA(asked.drawA)} to ±${format.mA(asked.uncertaintyA)}`,
    ],
    [
      'stand',
      answer.stand_days === null
        ? open(answer, 'stand_days')
        : `${format.number(answer.stand_days.low, 1)} to ${format.number(answer.stand_days.high, 1)} days until it may not start${standWords(answer)}`,
    ],
    ['limit', limitWords(answer, format)],
    ...answer.taken.map((text, k): [string, string] => [k === 0 ? 'assumed' : '', text]),
  ];
  return rows.flatMap(([label, text]) => wrap(text, columns, label, LABEL));
}

function open({ reasons }: SaidAnswer, key: string, before = ''): string {
  return `${before}not answered, ${reasons[key]}`;
}

function ofBytes({ cardBytes = 0 }: PlanAsked, format: Format): string {
  return ` (${format.number(cardBytes, 0)} bytes, ${format.number(cardBytes / 2 ** 30, 2)} GiB)`;
}

function toSeeWords({ eventEveryS, times, confidence }: PlanAsked, format: Format): string {
  const often = times === 1 ? 'at least once' : `at least ${times} times`;
  return `to see what comes each ${format.duration(eventEveryS)} on average ${often}, with ${format.number(confidence * 100)} % confidence`;
}

function standWords({ may_stand }: SaidAnswer): string {
  if (may_stand === 'yes') return ': long enough for that log';
  if (may_stand === 'no')
    return ': NOT long enough for that log. Charge the battery first, or have the vehicle driven in between';
  return may_stand === 'undecided' ? ': that log may be too long for it. Watch the voltage' : '';
}

function limitWords(answer: SaidAnswer, format: Format): string {
  const { limit } = answer;
  if (limit === null) return open(answer, 'limit', 'can the sensor decide it? ');
  const value = `${format.limit(limit.value_a, 'A')} (${limit.source})`;
  if (limit.uncertainty_a >= limit.value_a)
    return `${value}: this sensor cannot tell it from zero (±${format.mA(limit.uncertainty_a)}). No draw below ${format.mA(limit.open_to_a)} can be judged`;
  const given = {
    within: 'The draw given is within it.',
    beyond: 'The draw given is beyond it.',
    undecided: 'The draw given would stay undecided.',
  };
  return `${value}: draws from ${format.mA(limit.open_from_a)} to ${format.mA(limit.open_to_a)} get no verdict. ${limit.decision ? given[limit.decision] : ''}`.trim();
}
