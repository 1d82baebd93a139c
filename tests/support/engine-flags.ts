/**
 * What every process of a run of the tests is started with: each lives for seconds and shares two cores with others, where
 * compiling what runs often, and doing so beside the work, costs more than it gains. A fifth of the processor time of a cast.
 * WebAssembly is left as its first compiler makes it: opening the database in a folder then takes half of the processor time.
 */
export const ENGINE_FLAGS = ['--no-concurrent-recompilation', '--interrupt-budget=400000', '--max-semi-space-size=48', '--liftoff-only'] as const;
