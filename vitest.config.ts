import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';
import { ENGINE_FLAGS } from './tests/support/engine-flags.ts';

// 'import' and 'default' must not stand here: vitest hands the conditions on to Node.js, and require() would take ES modules.
const conditions = ['source', 'node'];

const filesIn = (folders: readonly string[]): string[] => folders.map((folder) => `tests/${folder}/**/*.test.ts`);
/** Start programs and servers that are killed, or change the process: each file has a process of its own. */
const programs = filesIn(['cli', 'faults', 'infra', 'runtime', 'system']);
/** Open the service in their own process, which they share, so that modules are loaded once. */
const services = filesIn(['api', 'attack', 'browser']);

/** The files that take minutes come before the many that take seconds, so that no core is idle at the end. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return ['programs', 'services', 'functions'].flatMap((name) => sorted.filter(({ project }) => project.name === name));
  }
}

const limits = { testTimeout: 120_000, hookTimeout: 300_000, pool: 'forks', execArgv: [...ENGINE_FLAGS] } as const;
const project = (test: { readonly name: string; readonly include: string[]; readonly exclude?: string[]; readonly isolate: boolean }) =>
  ({ ssr: { resolve: { conditions } }, resolve: { conditions }, test: { ...limits, ...test } });

export default defineConfig({
  test: {
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    globalSetup: ['tests/support/run-folder.ts'],
    projects: [
      project({ name: 'programs', include: programs, isolate: true }),
      project({ name: 'services', include: services, isolate: false }),
      // Functions without effects.
      project({ name: 'functions', include: ['tests/**/*.test.ts'], exclude: [...programs, ...services], isolate: false }),
    ],
  },
});
