import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleNormals } from '@cast-to-last/geometry/mesh/quantities';
import type { NotePicture } from '@cast-to-last/sheet/note/note-content';
import type { Finding, Reading } from '../records.js';
import { signOf } from './signs.js';
import type { Line3, Sign } from './signs.js';
import { facing, noteViews, toesRight } from './views.js';

/** What the pictures of one cast are drawn from; settled foot frame, mm. */
export interface PictureSubject {
  readonly mesh: Mesh;
  /** One byte a vertex: 1 where repair made it. */
  readonly filled: Uint8Array;
  readonly landmarks: Landmarks;
  readonly side: Side;
  /** Radians. */
  readonly heelPitch: number;
}

/** The pictures of one cast: each finding's sign or place on the view that shows it, or the cast alone where it has neither. */
export function notePictures(subject: PictureSubject): (finding: Finding, reading: Reading | null) => NotePicture {
  const { mesh, side } = subject;
  const viewOf = noteViews(mesh, side, subject.heelPitch);
  return (finding, reading) => {
    const made = finding.code === 'surface-made-up' ? madeUp(subject, viewOf) : null;
    if (made !== null) return made;
    const sign = signOf({ ...subject, finding, reading }) ?? placeOf(finding, subject);
    const { title, outline, contours, onPaper } = viewOf(sign.view);
    const lines = (drawn: readonly Line3[], closed = false) => drawn.map((line) => ({ points: onPaper(line), closed }));
    return {
      title, outline, contours, patches: lines(sign.between, true), measured: lines(sign.measured), wanted: lines(sign.wanted),
      places: sign.places.map((place) => { const [right, up] = onPaper([place]); return [right, up] as const; }),
    };
  };
}

/** A ring round a finding's place, on the view that its surface faces; no ring where it has no place. */
function placeOf({ at }: Finding, { mesh, side }: PictureSubject): Sign {
  if (at === null) return { view: toesRight(side), measured: [], wanted: [], between: [], places: [] };
  return { view: facing(normalAt(mesh, at), side), measured: [], wanted: [], between: [], places: [at] };
}

/** The normal of the triangle whose first corner lies nearest; its length is no matter. */
function normalAt(mesh: Mesh, at: Point): Float64Array {
  const { positions: p, triangles: t } = mesh;
  let nearest = 0;
  let least = Infinity;
  for (let i = 0; i < t.length; i += 3) {
    const v = 3 * t[i];
    const d = (p[v] - at[0]) ** 2 + (p[v + 1] - at[1]) ** 2 + (p[v + 2] - at[2]) ** 2;
    if (d < least) {
      nearest = i;
      least = d;
    }
  }
  return triangleNormals({ positions: p, triangles: t.subarray(nearest, nearest + 3) });
}

/** What repair made up, on the view that shows most of it. */
function madeUp({ mesh, filled, side }: PictureSubject, viewOf: ReturnType<typeof noteViews>): NotePicture | null {
  const { triangles: t } = mesh;
  const corners: number[] = [];
  for (let i = 0; i < t.length; i += 3) if (filled[t[i]] + filled[t[i + 1]] + filled[t[i + 2]] >= 2) corners.push(t[i], t[i + 1], t[i + 2]);
  if (corners.length === 0) return null;
  const made = { positions: mesh.positions, triangles: Uint32Array.from(corners) };
  const normals = triangleNormals(made);
  const mean = [0, 1, 2].map((k) => normals.reduce((sum, c, i) => (i % 3 === k ? sum + c : sum), 0));
  const { title, outline, contours, silhouetteOf } = viewOf(facing(mean, side));
  return { title, outline, contours, patches: silhouetteOf(made), measured: [], wanted: [], places: [] };
}
