import { expect, it } from 'vitest';
import { openSource } from '../../../src/log/files/source.ts';
import { type Event, eventsOf } from '../../../src/log/long/events.ts';
import { longLayout } from '../../../src/log/long/long-layout.ts';
import { memoryIo, sessionWith } from '../helpers.ts';

const SESSION = sessionWith({
  columns: {
    voltage: { name: 'battery', unit: 'V', where: { what: 'battery' }, value: 'value' },
    current: { name: 'shunt', unit: 'A', positive: 'charging', where: { what: 'shunt' }, value: 'value' },
    temperature: undefined,
  },
});
const LINES = [
  'time,what,value',
  '2026-03-03T17:40:00Z,battery,12.6',
  '',
  '2026-03-03T17:40:01Z,shunt,-0.03',
  '2026-03-03T17:40:02Z,coolant,84',
  '2026-03-03T17:4x:03Z,battery,12.5',
  '2026-03-03T17:40:04Z,shunt,unavailable',
  '2026-03-03T17:40:05Z,battery,12.4',
];

it.each([1_000_000, 7])(
  'gives the wanted values in order, %d bytes at once, and tells what it could not read',
  async (chunk) => {
    const io = memoryIo({ 'log.csv': LINES.join('\n') }, chunk);
    const source = await openSource(io, await io.open('/session/log.csv'), 'log.csv');
    const layout = longLayout(SESSION, source);
    if (!layout) throw new Error('no layout');
    const seen = new Map<string, number>();
    const found: Event[] = [];
    const events = eventsOf(source, layout, seen, () => {});
    let end = await events.next();
    for (; !end.done; end = await events.next()) found.push(...end.value);
    const t = Date.UTC(2026, 2, 3, 17, 40) / 1000;
    expect(found.map(({ t: at, quantity, value, line }) => [at - t, quantity, value, line])).toEqual([
      [0, 0, 12.6, 2],
      [1, 1, -0.03, 4],
      [4, 1, Number.NaN, 7],
      [5, 0, 12.4, 8],
    ]);
    expect(end.value).toMatchObject({ rows: 5, ignored: 2, unreadable: { count: 1, line: 6, found: LINES[5] } });
    expect([...seen]).toEqual([
      ['battery', 2],
      ['shunt', 2],
      ['coolant', 1],
    ]);
  },
);
