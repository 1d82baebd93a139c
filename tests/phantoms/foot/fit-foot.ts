import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { FootParameters } from './foot-parameters.js';
import { projectWithin } from '../surface/densify.js';
import type { Field } from '../surface/implicit.js';
import { meshField } from '../surface/mesh-field.js';
import { referenceFrame } from '../reference/frame.js';
import { referenceMeasures } from '../reference/measures.js';

export type FootDrawing = (p: FootParameters) => Field;

/** The space that any drawn foot fits in, with the top at `top`. */
export const roomFor = (p: FootParameters, top: number): Float64Array => {
  const scale = p.targets.length / 270;
  return new Float64Array([-25 * scale, -85 * scale, -20, 320 * scale, 85 * scale, top]);
};

/** Scales a drawing by trial (three rounds on a coarse mesh) until length, breadth, ball girth and heel breadth are near their targets. */
export function fitFoot(draw: FootDrawing, start: FootParameters): FootParameters {
  let p = start;
  for (let round = 0; round < 3; round++) {
    const field = draw(p);
    const mesh: Mesh = meshField(field, roomFor(p, 130), 5.5);
    projectWithin(field, mesh.positions, 2, 20);
    const { measures } = referenceMeasures(transformMesh(referenceFrame(mesh, 'right'), mesh), 'right', { only: ['foot-length', 'foot-breadth', 'ball-girth', 'heel-width'] });
    const { length, breadth, ballGirth, heelBreadth } = p.targets;
    const [fl, fb, bg, hw] = [measures['foot-length'], measures['foot-breadth'], measures['ball-girth'], measures['heel-width']] as number[];
    const wider = breadth / fb;
    // The girth grows with the width and the height; what the width does not explain is the height's.
    const share = bg / (2.05 * fb);
    const height = 1 + (ballGirth / bg - wider) / Math.max(0.35, 1 - 1 / share + 0.3);
    p = {
      ...p,
      lengthFit: p.lengthFit * (length / fl),
      widthFit: p.widthFit * wider,
      heightFit: Math.min(1.25, Math.max(0.8, p.heightFit * height)),
      heelWidth: Math.min(1.4, Math.max(0.75, p.heelWidth * (heelBreadth / hw / wider) ** 0.9)),
    };
  }
  return p;
}
