import type { Measurement } from '@cast-to-last/foot/measures';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import type { CastOutcome } from '@cast-to-last/pipeline/outcome';
import { handMadeOutcome } from './hand-made-outcome.js';
import { icosphere } from './meshes.js';

/** An egg of 260 × 100 × 80 mm, times `scale` about its middle, standing on z = 0 with its rear at x = 0 where that is 1. */
function egg(scale = 1): Mesh {
  const { positions, triangles } = icosphere(1, 5);
  return { positions: positions.map((c, i) => [130 * scale * c + 130, 50 * scale * c, 40 * scale * c + 40][i % 3]), triangles };
}

/** The circle round the egg's middle, as a tape in the plane x = 130. */
const tapeRound = (scale: number): Float64Array => Float64Array.from({ length: 3 * 90 }, (_, i) => {
  const angle = (Math.floor(i / 3) / 90) * 2 * Math.PI;
  return [130, 50 * scale * Math.cos(angle), 40 + 40 * scale * Math.sin(angle)][i % 3];
});

/** An outcome whose cast and last are eggs, `lastScale` times as large, with three marks: at either side and below. */
export function eggOutcome(side: Side, lastScale = 1): CastOutcome {
  const outcome = handMadeOutcome();
  const girth = (on: 'cast' | 'last', scale: number): Measurement => ({ id: 'ball-girth', label: 'ball girth', value: 283 * scale, unit: 'mm', uncertainty: 0.4, on, onFilled: 0.126, tape: tapeRound(scale) });
  const [first] = outcome.inspected.marks;
  const at = (id: string, x: number, y: number, z: number) => ({ ...first, id, centre: [x - 1, y, z] as const, vertices: new Uint32Array([0]) });
  const { surface } = outcome.inspected;
  // The ground of each mark is the one vertex at (0, 0, 0) − settle; here only its centre is looked at.
  const marks = [at('plusY', 130, 49, 40), at('minusY', 130, -49, 40), at('below', 130, 0, 1)];
  const places = marks.flatMap((m) => [...m.centre]);
  return {
    ...outcome,
    aligned: { ...outcome.aligned, side },
    inspected: {
      ...outcome.inspected, marks: marks.map((m, i) => ({ ...m, vertices: new Uint32Array([i]) })),
      surface: { ...surface, mesh: { ...surface.mesh, positions: Float64Array.from(places) } },
    },
    measured: { ...outcome.measured, mesh: egg(), measurements: [girth('cast', 1)] },
    last: { ...outcome.last, mesh: egg(lastScale), measurements: [girth('last', lastScale)] },
  };
}
