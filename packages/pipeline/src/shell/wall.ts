import { CastError } from '../errors.js';
import type { Casting } from '../order.js';
import type { Wall } from '../records.js';

export const WALL = {
  /** How well a wall is read at the cut edge, mm, and how far it differs over a shell, as a share of it (common practice, no source). */
  readingMm: 0.2,
  varies: 0.1,
  /** A ply is 0.3 to 0.6 mm thick (from memory), so a wall counted in layers is uncertain by this share. */
  pliesDiffer: 1 / 3,
} as const;

/** What is known of the wall before anything of it is measured in the scan. */
export interface WallKnown {
  /** As given with the scan, mm. */
  readonly wallMm?: number;
  readonly plaster?: Casting['plaster'];
  /** Thickness of a ply of bandage, mm. */
  readonly plyMm: number;
}

/**
 * The wall of a shell: as given, else as measured for the order, else layers times the thickness of a ply.
 *
 * @throws CastError `wall-unknown`
 */
export function knownWall({ wallMm, plaster, plyMm }: WallKnown): Wall {
  if (wallMm !== undefined) return { mm: wallMm, how: 'given', uncertainty: measuredAtEdge(wallMm) };
  if (plaster?.wallMm !== undefined) return { mm: plaster.wallMm, how: 'order', uncertainty: measuredAtEdge(plaster.wallMm) };
  if (plaster?.layers !== undefined) {
    const mm = plaster.layers * plyMm;
    return { mm, how: 'layers', uncertainty: WALL.pliesDiffer * mm };
  }
  throw new CastError(
    'wall-unknown',
    'The outside of a shell was scanned, but not how thick its wall is.',
    'Measure the wall at the cut edge and give it with --wall MM or as plaster.wallMm in the order; plaster.layers will do where it cannot be measured.',
  );
}

const measuredAtEdge = (mm: number): number => Math.hypot(WALL.readingMm, WALL.varies * mm);
