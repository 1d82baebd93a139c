import { footToFloor } from '@cast-to-last/foot/footbed';
import type { Point } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import { medialSign } from '@cast-to-last/foot/side';
import { silhouette } from '@cast-to-last/geometry/views/contour-lines';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { transformPositions } from '@cast-to-last/geometry/numerics/transform';
import { project, towardsViewer, viewMesh } from '@cast-to-last/geometry/views/view';
import type { View, ViewAxes } from '@cast-to-last/geometry/views/view';
import type { SheetLine } from '@cast-to-last/sheet/measurement/content';
import { viewContours } from '../sheet/view-contours.js';

export type ViewName = 'sole' | 'top' | 'inner' | 'outer' | 'rear' | 'front';

const TITLES: Record<ViewName, string> = {
  sole: 'the sole, seen from below', top: 'seen from above', inner: 'seen from the inner side', outer: 'seen from the outer side',
  rear: 'seen from behind', front: 'seen from the front',
};

/** Lengths in mm of the cast, of which a picture shows about a fifth. */
const SAMPLE = 0.8;
const CONTOUR_STEP = 15;

/** A view of the cast as the note draws it. */
export interface NoteView {
  readonly title: string;
  readonly outline: readonly SheetLine[];
  readonly contours: readonly SheetLine[];
  /** Points of the foot frame, x, y, z, as right, up on the paper. */
  readonly onPaper: (points: readonly Point[]) => Float64Array;
  /** The outline of a part of the cast. */
  readonly silhouetteOf: (part: Mesh) => readonly SheetLine[];
}

/** The side from which the toes point right. */
export const toesRight = (side: Side): ViewName => (medialSign(side) > 0 ? 'outer' : 'inner');

function axesOf(name: ViewName, side: Side): ViewAxes {
  if (name === 'sole') return { right: [1, 0, 0], up: [0, -1, 0] };
  if (name === 'top') return { right: [1, 0, 0], up: [0, 1, 0] };
  if (name === 'rear') return { right: [0, -1, 0], up: [0, 0, 1] };
  if (name === 'front') return { right: [0, 1, 0], up: [0, 0, 1] };
  return { right: name === toesRight(side) ? [1, 0, 0] : [-1, 0, 0], up: [0, 0, 1] };
}

/** Views of one cast, each made when it is first asked for. From the sides the cast stands as it stood on the footbed. */
export function noteViews(mesh: Mesh, side: Side, heelPitch: number): (name: ViewName) => NoteView {
  const made = new Map<ViewName, NoteView>();
  return (name) => {
    const known = made.get(name);
    if (known !== undefined) return known;
    const axes = turned(axesOf(name, side), name === 'inner' || name === 'outer' ? heelPitch : 0);
    const view: View = viewMesh(mesh, axes, SAMPLE);
    const drawn = {
      title: TITLES[name], outline: silhouette(view), contours: viewContours(view, CONTOUR_STEP), onPaper: paperOf(axes),
      silhouetteOf: (part: Mesh) => silhouette(viewMesh(part, axes, SAMPLE)),
    };
    made.set(name, drawn);
    return drawn;
  };
}

/** The same axes on a cast that is turned into the floor frame: it is they that are turned back. */
function turned({ right, up }: ViewAxes, heelPitch: number): ViewAxes {
  const back = transformPositions(footToFloor(-heelPitch), new Float64Array([...right, ...up]));
  return { right: [back[0], back[1], back[2]], up: [back[3], back[4], back[5]] };
}

const paperOf = (axes: ViewAxes) => (points: readonly Point[]): Float64Array => {
  const projected = project(axes, Float64Array.from(points.flat()));
  return projected.filter((_, i) => i % 3 !== 2);
};

/** The view that looks most straight at a place whose surface faces `normal`. */
export function facing(normal: ArrayLike<number>, side: Side): ViewName {
  let best = 'sole' as ViewName;
  let most = -Infinity;
  for (const name of Object.keys(TITLES) as ViewName[]) {
    const towards = towardsViewer(axesOf(name, side));
    const cosine = towards[0] * normal[0] + towards[1] * normal[1] + towards[2] * normal[2];
    if (cosine > most) {
      best = name;
      most = cosine;
    }
  }
  return best;
}
