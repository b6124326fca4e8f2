import { expect, it } from 'vitest';
import { circuitOnDuring } from '../../src/measures/circuits-on.ts';
import { analysed, log, START, sessionWith, stretch } from '../analysis/blocks.ts';

const channels = [
  { name: 'in1', label: 'Radio', unit: 'V', activeAboveV: 6, measures: 'supply' },
  { name: 'in2', label: 'Drop', unit: 'V', activeAboveV: 6, measures: 'drop' },
] as const;
const part = (radio: number, drop: number) => stretch(1800, 1, { v: 12.5, i: -0.5, ch: [radio, drop] });
const analysis = analysed(log([part(0.1, 12), part(12, 12), part(0.1, 0.1)]), { channels });
const session = sessionWith({ channels });
const span = (from: number, to: number) => ({ start: START + from, end: START + to });

it('names the circuit that was on then, and hardly ever otherwise', () => {
  expect(circuitOnDuring(analysis, session, [span(1800, 3600)], [span(0, 1800), span(3600, 5400)])).toBe('Radio');
});

it('names none that was on at other times too, nor one that measures a drop', () => {
  expect(circuitOnDuring(analysis, session, [span(1800, 2700)], [span(2700, 3600)])).toBeNull();
  expect(circuitOnDuring(analysis, session, [span(0, 1800)], [span(3600, 5400)])).toBeNull();
});

it('says nothing of a time that the log does not hold', () => {
  expect(circuitOnDuring(analysis, session, [span(9000, 9900)], [span(0, 1800)])).toBeNull();
});
