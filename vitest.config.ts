import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';

// 'import' and 'default' must not stand here: vitest hands the conditions on to Node.js, and require() would take ES modules.
const conditions = ['source', 'node'];

/** Folders whose tests start servers, programs or browsers, or change the process: each file has a process of its own. */
const withServers = ['api', 'attack', 'browser', 'cli', 'faults', 'infra', 'runtime', 'system'].map((folder) => `tests/${folder}/**/*.test.ts`);

/** The files that take minutes come before the many that take seconds, so that no core is idle at the end. */
class ServersFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isServers = ({ project }: TestSpecification): boolean => project.name === 'servers';
    return [...sorted.filter(isServers), ...sorted.filter((file) => !isServers(file))];
  }
}

export default defineConfig({
  test: {
    maxWorkers: 2,
    sequence: { sequencer: ServersFirst },
    globalSetup: ['tests/support/run-folder.ts'],
    projects: [
      {
        ssr: { resolve: { conditions } },
        resolve: { conditions },
        test: { name: 'servers', include: withServers, testTimeout: 120_000, hookTimeout: 300_000, pool: 'forks' },
      },
      {
        ssr: { resolve: { conditions } },
        resolve: { conditions },
        // Tests of functions without effects share their process, so that modules are loaded once.
        test: { name: 'functions', include: ['tests/**/*.test.ts'], exclude: withServers, testTimeout: 120_000, hookTimeout: 300_000, pool: 'forks', isolate: false },
      },
    ],
  },
});
