import { expect, it } from 'vitest';
import { momentsOf } from '../../../src/charts/drawing/moments.ts';

it('numbers notes and photos in order of time; a photo without a time has no number', () => {
  const moments = momentsOf(
    [{ atMs: 3000, text: 'Locked' }],
    [
      { file: 'a.jpg', atMs: 1000, atFrom: 'camera', text: 'Clamp' },
      { file: 'b.jpg', atMs: undefined, atFrom: undefined, text: undefined },
    ],
  );
  expect(moments).toEqual([
    { number: 1, atMs: 1000, text: 'Clamp', photo: 'a.jpg', atFrom: 'camera' },
    { number: 2, atMs: 3000, text: 'Locked', photo: null, atFrom: null },
  ]);
});
