import { buildSurface, type Below } from './surface/build-surface.js';
import type { ExactMesh } from './surface/densify.js';
import { fitFoot, roomFor, type FootDrawing } from './foot/fit-foot.js';
import { bluntFoot, buriedFoot } from './foot/foot-blunt.js';
import { footOfBones } from './foot/foot-bones.js';
import type { FootParameters } from './foot/foot-parameters.js';
import { footOfSections } from './foot/foot-sections.js';
import { boundaryLoops, handles } from './surface/halfedges.js';
import { smoothMax, type Field } from './surface/implicit.js';
import type { Family } from './phantom-options.js';
import type { PlacedFoot } from './position/place-foot.js';
import type { Plants, Position } from './position/position.js';
import { standFoot } from './position/stand-foot.js';
import type { Random } from './random.js';
import { wholeUpTo } from './scan/whole-up-to.js';

const DRAWINGS: { readonly [family in Family]: FootDrawing } = { bones: footOfBones, sections: footOfSections, blunt: bluntFoot };
/** The same without bandage over the toes. */
const BARE: { readonly [family in Family]: FootDrawing } = { ...DRAWINGS, blunt: buriedFoot };

/** The clean cast in the space it was drawn in. */
export interface CleanCast {
  /** As dense as the scan shall be. */
  readonly built: ExactMesh;
  /** At least the asked `denseTriangles`; the same mesh where the scan is as dense. */
  readonly dense: ExactMesh;
  readonly field: Field;
  readonly cap: Field | null;
  /** Of the cut on the leg's axis, mm. */
  readonly height: number;
  /** Of a foot in a position that was asked for. */
  readonly placed?: {
    /** The foot without bandage beyond its toes. */
    readonly bare: Field;
    readonly plants: Plants;
    /** Two points of the hinge between the plates that it was put on. */
    readonly hinge: PlacedFoot['hinge'];
  };
}

export interface CastEnd {
  readonly top: string;
  /** mm over the medial malleolus */
  readonly rise: number;
}

export interface TopCut {
  readonly below: Below;
  readonly cap: Field | null;
  /** On the leg's axis, mm. */
  readonly height: number;
}

/** Where the cast ends above: tilted or nearly level, cut or ragged, or closed by a flat cap. */
function topCut(random: Random, foot: FootParameters, { top, rise }: CastEnd): TopCut {
  const height = foot.medialMalleolusHeight + rise;
  const { length } = foot.targets;
  const tilt = [random.normal(0, 0.06), random.normal(0, 0.06)];
  const waves = [1, 2, 3, 5, 8].map((n) => ({ n, a: random.normal(0, 2.2 / Math.sqrt(n)), phase: random.between(0, 6.3) }));
  const plane = (x: number, y: number): number => height + tilt[0] * (x - 0.2 * length) + tilt[1] * y;
  if (top === 'capped') return { below: () => true, cap: (x, y, z) => z - plane(x, y), height: height + 8 };
  if (top === 'cut') return { below: (x, y, z) => z < plane(x, y), cap: null, height };
  const edge = (x: number, y: number): number => {
    const turn = Math.atan2(y, x - 0.2 * length);
    return plane(x, y) + waves.reduce((sum, w) => sum + w.a * Math.sin(w.n * turn + w.phase), 0);
  };
  return { below: (x, y, z) => z < edge(x, y), cap: null, height };
}

/** About how many triangles the scan and, at least, the clean surface have. */
export interface CastSize {
  readonly triangles: number;
  readonly denseTriangles: number;
}

/** Draws, fits and meshes the clean cast; toes that touch and leave a tunnel between them are melted further together until none is left. */
export function buildCast(family: Family, drawn: FootParameters, end: CastEnd, { triangles, denseTriangles }: CastSize, random: Random, position?: Position): CleanCast {
  const draw = DRAWINGS[family];
  // A foot on a bed has its toes down.
  let start = position ? { ...drawn, toeSpring: 0 } : drawn;
  for (let attempt = 0; attempt < 6; attempt++) {
    const foot = fitFoot(draw, start);
    const cut = topCut(random.fork('cut'), foot, end);
    const stood = position && standFoot({ drawn: draw(foot), bare: BARE[family](foot), room: roomFor(foot, cut.height + 14) }, cut, position, random.fork('position'));
    const bare = stood?.field ?? draw(foot);
    const { below, cap } = stood ?? cut;
    const field: Field = cap ? (x, y, z) => smoothMax(bare(x, y, z), cap(x, y, z), 1.5) : bare;
    const room = stood?.room ?? roomFor(foot, cut.height + 14);
    const dense = buildSurface(field, room, Math.max(triangles, denseTriangles), below, random.fork('dense'));
    // A placed foot has narrow clefts where a vertex may be lost; its upper edge shall be its only one.
    const torn = stood !== undefined && boundaryLoops(dense) !== (cap ? 0 : 1);
    if (handles(dense) === 0 && !torn) {
      const built = triangles >= denseTriangles ? dense : buildSurface(field, room, triangles, below, random.fork('mesh'));
      // A leg that leans is cut at a slant.
      const height = stood ? wholeUpTo(dense, cap) + 8 : cut.height;
      return { built, dense, field, cap, height, ...(stood ? { placed: { bare: stood.bare, plants: stood.plants, hinge: stood.hinge } } : {}) };
    }
    start = { ...start, toeMerge: 1.3 * start.toeMerge };
  }
  throw new Error('the toes of this foot keep a tunnel or a tear between them');
}
