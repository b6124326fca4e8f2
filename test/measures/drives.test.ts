import { expect, it } from 'vitest';
import { judgedDrives, SHORTEST_DRIVE_S } from '../../src/measures/drives.ts';
import { session, week } from '../checks/analysis-fixture.ts';

it('leaves out drives too short for the regulator to settle, and those without a voltage', () => {
  const analysis = week();
  const [first, second, third, ...rest] = analysis.drives;
  const drives = [
    { ...first, end: first.start + SHORTEST_DRIVE_S - 1 },
    { ...second, voltsHigh: null },
    third,
    ...rest,
  ];
  const judged = judgedDrives({ ...analysis, drives }, session());
  expect(judged.map(({ drive }) => drive.start)).toEqual([third, ...rest].map(({ start }) => start));
});

it('judges each by the window of its own temperature: colder asks for more', () => {
  const leastV = (temperatureC: number) => judgedDrives(week({ temperatureC }), session())[0].window.minV;
  expect(leastV(-10)).toBeGreaterThan(leastV(30));
});
