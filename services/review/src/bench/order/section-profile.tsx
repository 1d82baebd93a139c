import type { Cut, Plane } from '../../parts/geometry/calls.js';

const [WIDTH, HEIGHT] = [190, 128];
/** mm that the drawing shows across: the same for every section, so that outlines can be compared by eye. */
const ACROSS = 140;

/** A section seen from the heel, its tape round it. */
export function SectionProfile({ cut, plane: { normal } }: { readonly cut: Cut | null; readonly plane: Plane }) {
  const scale = WIDTH / ACROSS;
  // From behind, −Y is to the right; up is what of the plane points up.
  const level = Math.hypot(normal[0], normal[1]) || 1;
  const right = [normal[1] / level, -normal[0] / level, 0];
  const up = [right[1] * normal[2] - right[2] * normal[1], right[2] * normal[0] - right[0] * normal[2], right[0] * normal[1] - right[1] * normal[0]].map((c) => -c);
  const dot = (a: readonly number[], p: Float32Array, i: number): number => a[0] * p[i] + a[1] * p[i + 1] + a[2] * p[i + 2];
  const lines = [...(cut?.curves.map(({ points, closed }) => ({ points, closed, kind: 'outline' })) ?? []), ...(cut?.tape == null ? [] : [{ points: cut.tape.line, closed: true, kind: 'tape' }])];
  let [low, least, most] = [Infinity, Infinity, -Infinity];
  for (const { points } of lines) {
    for (let i = 0; i < points.length; i += 3) {
      low = Math.min(low, dot(up, points, i));
      least = Math.min(least, dot(right, points, i));
      most = Math.max(most, dot(right, points, i));
    }
  }
  const middle = (least + most) / 2;
  const path = ({ points, closed }: { readonly points: Float32Array; readonly closed: boolean }): string =>
    Array.from({ length: points.length / 3 }, (_, k) => `${k === 0 ? 'M' : 'L'}${(WIDTH / 2 + scale * (dot(right, points, 3 * k) - middle)).toFixed(1)} ${(HEIGHT - 14 - scale * (dot(up, points, 3 * k) - low)).toFixed(1)}`).join('') + (closed ? 'Z' : '');
  return (
    <svg class="section-profile" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="The section seen from the heel">
      {lines.map((line, i) => <path key={`${line.kind}${i}`} class={line.kind} d={path(line)} />)}
      <path class="bar" d={`M6 ${HEIGHT - 4}h${50 * scale}`} /><text x={10 + 50 * scale} y={HEIGHT - 1}>50 mm</text>
    </svg>
  );
}
