import { handles } from '../surface/halfedges.js';
import type { Random } from '../random.js';
import { outerSheet } from './outer-sheet.js';
import { Sections } from './sections.js';
import type { Sheet } from './sheet.js';
import { shellFoot, type ShellFoot } from './shell-foot.js';
import type { ShellOptions } from './shell-options.js';
import { slowAlong } from './slow.js';
import { Spine } from './spine.js';
import { drawWall, type ThinPatch, type Wall } from './wall.js';
import { drawWeakPlaces, type BrokenHole } from './weak-places.js';

/** A shell before it was cut: the foot in it, its wall, and where it will be cut. */
export interface ShellBodies {
  readonly foot: ShellFoot;
  readonly sections: Sections;
  /** Where the cut begins behind the toes, mm along the spine. */
  readonly start: number;
  readonly wall: Wall;
  readonly thin: readonly ThinPatch[];
  readonly broken: readonly BrokenHole[];
  /** Null where the outside is not asked for. */
  readonly outer: Sheet | null;
}

export interface BodiesPlan {
  readonly nominal: number;
  readonly swing: number;
  /** Of each sheet. */
  readonly triangles: number;
  readonly needsOuter: boolean;
}

/** Room above the edge that sheets are built with before they are trimmed, mm. */
const ABOVE = 8;

/** Where toes stand so that the wall between them would have a hole through it, or the skin a tear, they are melted further together. */
export function shellBodies(random: Random, options: ShellOptions, plan: BodiesPlan): ShellBodies {
  const size = { triangles: plan.triangles, denseTriangles: options.denseTriangles ?? 60_000 };
  for (let merge = 1, attempt = 0; attempt < 7; attempt++, merge *= 1.3) {
    const foot = shellFoot(random, { ...size, family: options.family, rise: options.rise ?? random.fork('rise').between(35, 110), ragged: random.fork('ragged').chance(0.35), merge });
    if (!foot) continue;
    const { sections, start } = course(foot, random.fork('course'));
    const weak = drawWeakPlaces(foot.skin, random.fork('weak'), { thin: options.thin ?? 0, broken: options.broken ?? 0, nominal: plan.nominal, free: clearOf(foot, sections, start) });
    const wall = drawWall(random.fork('slow wall'), plan.nominal, plan.swing, weak.thin);
    const rest = { foot, sections, start, wall, ...weak };
    if (!plan.needsOuter) return { ...rest, outer: null };
    const outer = outerSheet(foot.skin, wall, plan.triangles, (x, y, z) => z < foot.edge(x, y) + ABOVE, random.fork('outer'));
    if (handles(outer) === 0) return { ...rest, outer };
  }
  throw new Error('the wall between these toes keeps a hole');
}

/** The sections of the foot and the course of the cut: up to 12 mm off the midline, wandering, from the toe base to the top. */
function course(foot: ShellFoot, random: Random): { sections: Sections; start: number } {
  const { skin, landmarks, whole } = foot;
  const fl = landmarks.footLength;
  const spine = new Spine(skin.mesh, fl);
  const along = (x: number, z: number): number => spine.locate(x, z, { along: 0, off: 0 }).along;
  const start = along(random.between(0.66, 0.78) * fl, 0.13 * fl);
  const off = random.between(-8, 8);
  const sway = random.between(0.5, 4);
  const wander = slowAlong(random, random.between(60, 160));
  const top = along(0.2 * fl, whole);
  return { start, sections: new Sections(skin.mesh, spine, start - 12, top + 18, (s) => off + sway * wander(s)) };
}

/** Whether a vertex lies 30 mm and more from the cut, from the edge and behind the toes. */
function clearOf({ skin, landmarks, whole }: ShellFoot, sections: Sections, start: number): (vertex: number) => boolean {
  const p = skin.mesh.positions;
  const path: number[][] = [];
  for (let s = start; s <= sections.last; s += 6) path.push(sections.point(s, 0));
  return (v) => {
    const at = [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
    if (at[2] > whole - 34 || at[0] > 0.82 * landmarks.footLength) return false;
    return path.every((q) => Math.hypot(q[0] - at[0], q[1] - at[1], q[2] - at[2]) > 34);
  };
}
