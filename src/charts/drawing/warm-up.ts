/** A picture of nothing, with a little of all that the others are made of: whoever has drawn it draws those in a third of the time. */
import { bandLayers, limitLine, limitUpright, panel, rows, topLevel, valueX, valueY } from '../chart.ts';
import type { Spec } from './draw.ts';
import { laneMark, laneY } from './lanes.ts';
import { INK, PALE } from './theme.ts';

const TICKS = { values: [0, 1], labels: ['0', '1'] };
const DOMAIN = [0, 1];
const TIME = {
  field: 't',
  type: 'temporal',
  scale: { type: 'utc', domainMin: 0, domainMax: 1, nice: false },
  axis: valueX('t', TICKS, DOMAIN, '').axis,
};
const VALUE = valueX('t', TICKS, DOMAIN, 'x');
const yOf = (field: string) => valueY(field, TICKS, DOMAIN, { type: 'symlog', constant: 1 });
const band = rows([0, 1].map((t) => ({ t, lo: 0, hi: 1, y: 0.5, to: 1, label: ['a', 'b'] })));

export const WARM_UP: Spec = topLevel('', {
  vconcat: [
    panel({
      title: 'a',
      height: 50,
      data: band,
      layer: [...bandLayers(TIME, yOf), ...limitLine(yOf('y'), 0.5, ['a', 'b']), ...limitUpright(TIME, 0.5, 'a')],
    }),
    panel({
      title: 'a',
      height: 50,
      data: band,
      layer: [
        { mark: { type: 'rect', color: PALE }, encoding: { x: VALUE, x2: { field: 'to' } } },
        { mark: { type: 'rule', color: INK }, encoding: { x: VALUE, x2: { field: 'to' }, y: { value: 24 } } },
        { mark: { type: 'point', shape: 'circle', filled: true }, encoding: { x: VALUE, y: yOf('y') } },
        { mark: { type: 'bar', color: INK }, encoding: { x: VALUE, y: yOf('y') } },
        { mark: { type: 'text', align: 'left' }, encoding: { x: VALUE, y: yOf('y'), text: { field: 'label' } } },
      ],
    }),
    panel({
      title: 'a',
      height: 50,
      layer: [{ ...laneMark([{ start: 0, end: 1 }], 0, (s) => s, INK, 3), encoding: { x: TIME, y: laneY(['a']) } }],
    }),
  ],
});
