/**
 * For `v8.setFlagsFromString`, by programs that make casts: how much of a function runs before the engine compiles it with
 * full effort (its own default is about a third of this). Most of the pipeline's functions run for a moment only; compiling
 * them later, with more known of them, leaves more of the processor to the work. Changes no result.
 */
export const COMPILE_LATER = '--interrupt-budget=200000';
