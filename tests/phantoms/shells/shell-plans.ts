import type { ScanKind } from '@cast-to-last/pipeline/records';
import type { Shell } from './make-shell.js';
import type { SaidOfScan } from './run-shell.js';
import type { ShellOptions } from './shell-options.js';

/** How the wall of a shell is told to the pipeline. */
export type WallTold = 'given' | 'layers' | 'not';

export interface ShellPlan {
  readonly name: string;
  readonly options: ShellOptions;
  readonly kind: ScanKind;
  readonly told: WallTold;
  /** Share of the triangles asked for. */
  readonly density?: number;
}

/** Plies are from 0.3 to 0.6 mm thick, whatever the rules say (from memory). */
const PLIES = [0.36, 0.4, 0.45, 0.5, 0.54];

/** The casts of the report, over and over by seed. Strong errors are planted so that they pass 1.5 times the limits for a recast. */
const PLANS: readonly ShellPlan[] = [
  { name: 'outside, even wall', options: { delivered: 'outside', top: 'open', swing: 0 }, kind: 'outside', told: 'given' },
  { name: 'gaping', options: { delivered: 'positive', cut: 'gaping' }, kind: 'positive', told: 'not' },
  { name: 'inside', options: { delivered: 'inside', facing: 'in' }, kind: 'inside', told: 'not' },
  { name: 'overlapping', options: { delivered: 'positive', cut: 'overlapping' }, kind: 'positive', told: 'not', density: 0.4 },
  { name: 'two-sided, weak places', options: { delivered: 'two-sided', joined: true, thin: 2, broken: 1 }, kind: 'inside', told: 'not' },
  { name: 'sound', options: { delivered: 'positive' }, kind: 'positive', told: 'not' },
  { name: 'outside, even wall', options: { delivered: 'outside', top: 'rim', swing: 0 }, kind: 'outside', told: 'given' },
  { name: 'gaping, strong', options: { delivered: 'positive', cut: 'gaping', cutSize: 13, cutAtInstep: true }, kind: 'positive', told: 'not' },
  { name: 'inside, mirrored', options: { delivered: 'inside', mirrored: true }, kind: 'inside', told: 'not' },
  { name: 'step, strong', options: { delivered: 'positive', cut: 'step', cutSize: 6.2 }, kind: 'positive', told: 'not' },
  { name: 'two-sided, gaping', options: { delivered: 'two-sided', joined: true, cut: 'gaping', cutAtInstep: true }, kind: 'outside', told: 'not' },
  { name: 'sound', options: { delivered: 'positive' }, kind: 'positive', told: 'not', density: 2 },
  { name: 'outside, layers told', options: { delivered: 'outside', swing: 0 }, kind: 'outside', told: 'layers' },
  { name: 'buckle', options: { delivered: 'positive', cut: 'buckle' }, kind: 'positive', told: 'not' },
  { name: 'inside', options: { delivered: 'inside', facing: 'out' }, kind: 'inside', told: 'not', density: 0.4 },
  { name: 'overlapping, strong', options: { delivered: 'positive', cut: 'overlapping', wall: 7.8, cutSize: 11 }, kind: 'positive', told: 'not' },
  { name: 'outside, uneven wall', options: { delivered: 'outside', top: 'capped', swing: 0.12 }, kind: 'outside', told: 'given' },
  { name: 'step', options: { delivered: 'positive', cut: 'step' }, kind: 'positive', told: 'not' },
  { name: 'two-sided, sound', options: { delivered: 'two-sided', joined: false }, kind: 'outside', told: 'not' },
  { name: 'sound', options: { delivered: 'positive' }, kind: 'positive', told: 'not', density: 0.4 },
  { name: 'outside, even wall', options: { delivered: 'outside', top: 'capped', swing: 0 }, kind: 'outside', told: 'given', density: 2 },
  { name: 'gaping', options: { delivered: 'positive', cut: 'gaping' }, kind: 'positive', told: 'not', density: 0.5 },
  { name: 'inside', options: { delivered: 'inside', facing: 'in', top: 'rim' }, kind: 'inside', told: 'not' },
  { name: 'two-sided, overlapping', options: { delivered: 'two-sided', joined: true, cut: 'overlapping', cutSize: 12, cutAtInstep: true }, kind: 'inside', told: 'not' },
  { name: 'two-sided, sound', options: { delivered: 'two-sided', joined: true }, kind: 'inside', told: 'not' },
  { name: 'sound', options: { delivered: 'positive' }, kind: 'positive', told: 'not' },
  { name: 'outside, uneven wall', options: { delivered: 'outside', swing: 0.06 }, kind: 'outside', told: 'given' },
  { name: 'gaping, strong', options: { delivered: 'positive', cut: 'gaping', cutSize: 15, cutAtInstep: true }, kind: 'positive', told: 'not', density: 0.4 },
  { name: 'inside, mirrored', options: { delivered: 'inside', mirrored: true }, kind: 'inside', told: 'not' },
  { name: 'warp', options: { delivered: 'positive', cut: 'warp' }, kind: 'positive', told: 'not' },
];

export const planOf = (seed: number): ShellPlan => PLANS[seed % PLANS.length];

/** What the bench says of a shell that was made after a plan. With layers told, the plies are not as thick as the rules have them. */
export function saidOf({ truth }: Shell, { kind, told }: ShellPlan, seed: number): SaidOfScan {
  if (told === 'given') return { kind, wallMm: truth.nominalWall };
  if (told === 'not') return { kind };
  return { kind, casting: { plaster: { layers: Math.max(1, Math.round(truth.nominalWall / PLIES[seed % PLIES.length])) } } as SaidOfScan['casting'] };
}
