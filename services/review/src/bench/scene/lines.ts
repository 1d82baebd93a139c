import { Vector2 } from 'three';
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js';
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js';
import { plainColour } from './surface-material.js';

export interface LineLook {
  readonly colour: string;
  /** CSS pixels where letters have their usual size; it grows with them. */
  readonly width: number;
  /** Drawn over everything, also where a body lies before it. */
  readonly through?: boolean;
  readonly opacity?: number;
}

const USUAL_LETTER = 16;

/** Pairs of points joined by lines as wide on the screen as asked. @param pairs x, y, z of both ends of each */
export function segments(pairs: readonly number[] | Float32Array, { colour, width, through = false, opacity = 1 }: LineLook): LineSegments2 {
  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(pairs as number[]);
  const material = new LineMaterial({ linewidth: (width * Number.parseFloat(getComputedStyle(document.documentElement).fontSize)) / USUAL_LETTER, depthTest: !through, transparent: opacity < 1, opacity, resolution: new Vector2(1, 1) });
  material.color.copy(plainColour(colour));
  const drawn = new LineSegments2(geometry, material);
  drawn.frustumCulled = false;
  drawn.renderOrder = through ? 3 : 2;
  return drawn;
}

/** A line through points as pairs. */
export function pairsOf(points: ArrayLike<number>, closed: boolean): Float32Array {
  const count = points.length / 3;
  const pairs = new Float32Array(6 * (closed ? count : Math.max(0, count - 1)));
  for (let i = 0; 6 * i < pairs.length; i++) {
    const j = (i + 1) % count;
    for (let k = 0; k < 3; k++) {
      pairs[6 * i + k] = points[3 * i + k];
      pairs[6 * i + 3 + k] = points[3 * j + k];
    }
  }
  return pairs;
}

export function dispose(lines: LineSegments2): void {
  lines.geometry.dispose();
  lines.material.dispose();
}
