import { defineConfig } from 'vitest/config';

export default defineConfig({
  // Vitest would leave a core to itself, and on two that is every second one.
  test: { include: ['test/**/*.test.ts'], maxWorkers: '100%', testTimeout: 60_000, hookTimeout: 120_000 },
});
