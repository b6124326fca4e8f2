/** Keys of the reasons; their words are `content/<language>/comparison.md`. */
export const REASONS = [
  'cured',
  'still-fault',
  'still-fault-less',
  'within-uncertainty',
  'watch-after',
  'no-fault-before',
  'worse',
  'before-open',
  'after-open',
  'no-value',
  'no-uncertainty',
  'limits-differ',
  'temperatures-differ',
  'moved-the-wrong-way',
  'new-fault-within-uncertainty',
  'differs',
  'alike',
] as const;
export type Reason = (typeof REASONS)[number];

/** Keys of the reasons for the verdict on the whole. */
export const OVERALL = [
  'all-cured',
  'cured-new-fault',
  'some-worse',
  'some-undecided',
  'some-not-shown',
  'nothing-to-cure',
  'another-vehicle',
  'model-baseline',
  'not-measured',
] as const;
export type Overall = (typeof OVERALL)[number];
