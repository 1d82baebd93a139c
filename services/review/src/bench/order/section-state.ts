import { signal } from '@preact/signals';
import { loopPlane } from '@cast-to-last/geometry/repair/loop-plane';
import type { Cut, Plane } from '../../parts/geometry/calls.js';

/** Where the movable section lies on a foot. */
export interface SectionAt {
  /** mm from the heel along the foot, where it meets the rest plane on the axis. */
  readonly x: number;
  /** Degrees from upright, its lower part to the heel positive. */
  readonly tilt: number;
  /** Degrees by which its inner end lies further to the toes. */
  readonly swing: number;
}

/** On each foot; moving it moves it on both. */
export const sections = signal<Readonly<Record<'left' | 'right', SectionAt>>>({ left: { x: 130, tilt: 0, swing: 0 }, right: { x: 130, tilt: 0, swing: 0 } });

/** What the section meets on each foot that is shown. */
export const sectionCuts = signal<Readonly<Partial<Record<'left' | 'right', Cut | null>>>>({});

/** Moves the section on both feet, mm and degrees. */
export function moveSections(by: Partial<SectionAt>): void {
  const moved = ({ x, tilt, swing }: SectionAt): SectionAt => ({
    x: Math.max(0, Math.min(360, x + (by.x ?? 0))), tilt: Math.max(-80, Math.min(80, tilt + (by.tilt ?? 0))), swing: Math.max(-60, Math.min(60, swing + (by.swing ?? 0))),
  });
  sections.value = { left: moved(sections.value.left), right: moved(sections.value.right) };
}

const rad = Math.PI / 180;

/** The plane in the frame of one foot; `medial`: +1 where the inner side is +Y. */
export function planeOf({ x, tilt, swing }: SectionAt, medial: 1 | -1): Plane {
  const normal = [Math.cos(tilt * rad) * Math.cos(swing * rad), -medial * Math.cos(tilt * rad) * Math.sin(swing * rad), -Math.sin(tilt * rad)] as const;
  return { normal, offset: normal[0] * x };
}

/** Where a tape lies; null for a tape that lies flat. */
export function sectionOf(line: readonly number[], medial: 1 | -1): SectionAt | null {
  const plane = loopPlane(line);
  if (plane === null || Math.abs(plane.normal[0]) < 0.05) return null;
  const way = Math.sign(plane.normal[0]);
  const [nx, ny, nz] = plane.normal.map((c) => c * way);
  return { x: (way * plane.offset) / nx, tilt: -Math.asin(nz) / rad, swing: -medial * Math.atan2(ny, nx) / rad };
}
