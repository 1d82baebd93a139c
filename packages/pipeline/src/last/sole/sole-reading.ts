import { rememberedTwins } from '@cast-to-last/geometry/mesh/remembered-topology';
import type { LastBody } from '../last-body.js';
import { OutlineIndex } from './outline-index.js';
import { rimMesh } from './rim-mesh.js';
import type { SoleMap } from './sole-map.js';
import { soleMap } from './sole-map.js';
import type { SoleOutline } from './sole-outline.js';
import { soleOutline } from './sole-outline.js';
import { toesLevel } from './toes-level.js';

/** How far inside the outline places still know where along it they lie, mm. */
export const REACH = 26;

/** Where the sole of a body lies. */
export interface SoleReading {
  readonly map: SoleMap;
  readonly outline: SoleOutline;
  readonly index: OutlineIndex;
  /** The triangles round the edge. */
  readonly rim: Uint32Array;
  /** Whether the toes show one sole and one edge. */
  readonly level: boolean;
}

/** Null where the body shows no sole. */
export function readSole({ mesh, landmarks }: LastBody): SoleReading | null {
  const map = soleMap(mesh, landmarks);
  const outline = soleOutline(map);
  if (outline === null) return null;
  const index = new OutlineIndex(outline, REACH);
  const rim = rimMesh(mesh, index, landmarks.footLength);
  return { map, outline, index, rim: rim.triangles, level: toesLevel(rim, rememberedTwins(rim), outline, map, landmarks) };
}
