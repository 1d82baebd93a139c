import { defineConfig } from 'vitest/config';

// 'import' and 'default' must not stand here: vitest hands the conditions on to Node.js, and require() would take ES modules.

export default defineConfig({
  ssr: { resolve: { conditions: ['source', 'node'] } },
  resolve: { conditions: ['source', 'node'] },
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 300_000,
    pool: 'forks',
    maxWorkers: 2,
  },
});
