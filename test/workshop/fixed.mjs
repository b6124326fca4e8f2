// The vehicles that run with the project's tests: quick ones, all of whose expectations hold.
export const FIXED = [
  'only-driving',
  'ends-driving',
  'fast-20hz',
  'hybrid',
  'lfp-motorcycle',
  'truck-24v',
  'adaptive-5s-road',
  'overcharge-hot',
  'high-15v4',
  'slow-10s-late-sleep',
  'slow-60s-draw',
  'cycle-150s',
];
