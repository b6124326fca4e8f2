import { defineConfig } from 'vitest/config';

const ALL = process.env.STANDSTILL_TESTS === 'all';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    // What takes long, with real browsers, full disks or whole vehicles: `.ci/run` runs it, and whoever asks for it.
    exclude: ALL ? [] : ['test/**/*.long.test.ts'],
    // Vitest would leave a core to itself, and on two that is every second one.
    maxWorkers: '100%',
    // A process for each file would load everything anew, which is half of the time: what a test changes it puts back.
    isolate: false,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // The rooms that a diagnosis is made in: `npm run unit:coverage`.
    coverage: {
      provider: 'v8',
      include: ['analysis', 'measures', 'battery', 'checks'].map((room) => `src/${room}/**/*.ts`),
      reporter: ['text-summary', 'json-summary'],
      reportsDirectory: '.build/coverage',
    },
  },
});
