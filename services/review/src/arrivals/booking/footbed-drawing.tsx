import { bedAngles } from '@cast-to-last/foot/footbed';
import { numberOf } from '../../parts/number-of.js';
import type { OrderValues } from './fields.js';

const DEG = 180 / Math.PI;
const WIDTH = 320;
const MARGIN = 26;

/** The footbed from the side as it was measured, with the pitch of both plates that follows from it. */
export function FootbedDrawing({ values }: { readonly values: OrderValues }) {
  const read = (key: string, otherwise?: number): number | null => {
    const text = values[`footbed.${key}`] ?? '';
    return text.trim() === '' ? (otherwise ?? null) : numberOf(text);
  };
  const [heelHeightMm, hingeHeightMm, toeHeightMm] = [read('heelHeightMm'), read('hingeHeightMm', 0), read('toeHeightMm', 0)];
  const [heelToHingeMm, hingeToToeMm] = [read('heelToHingeMm'), read('hingeToToeMm')];
  if (heelHeightMm === null || hingeHeightMm === null || toeHeightMm === null || heelToHingeMm === null || hingeToToeMm === null) {
    return <p class="footbed-drawing quiet small">The heel end and both lengths give the drawing, with the pitch of each plate.</p>;
  }
  let angles;
  try {
    angles = bedAngles({ heelHeightMm, hingeHeightMm, toeHeightMm, heelToHingeMm, hingeToToeMm });
  } catch {
    return <p class="footbed-drawing small is-bad">A plate of this length cannot reach from one height to the other.</p>;
  }
  const { heelPitch, toePitch, bend } = angles;
  const along = [0, heelToHingeMm * Math.cos(heelPitch), heelToHingeMm * Math.cos(heelPitch) + hingeToToeMm * Math.cos(toePitch)];
  const scale = (WIDTH - 2 * MARGIN) / along[2];
  const top = Math.max(heelHeightMm, hingeHeightMm, toeHeightMm, 30) * scale + 34;
  const [heel, hinge, toe] = [heelHeightMm, hingeHeightMm, toeHeightMm].map((height, i) => [MARGIN + along[i] * scale, top - height * scale] as const);
  const degrees = (angle: number): string => `${(angle * DEG).toFixed(1).replace('-', '−')}°`;
  const says = `Rear plate down to the hinge ${degrees(heelPitch)}, front plate up ${degrees(toePitch)}, bend ${degrees(bend)}`;
  return (
    <figure class="footbed-drawing">
      <svg viewBox={`0 0 ${WIDTH} ${top + 24}`} role="img" aria-label={says}>
        <line class="floor" x1={8} x2={WIDTH - 8} y1={top} y2={top} />
        {[heel, hinge, toe].map(([x, y], i) => y < top - 2 && <line key={i} class="post" x1={x} x2={x} y1={y} y2={top} />)}
        <polyline class="plate" points={[heel, hinge, toe].map((p) => p.join()).join(' ')} />
        <circle class="hinge" cx={hinge[0]} cy={hinge[1]} r={4.5} />
        <text x={(heel[0] + hinge[0]) / 2} y={(heel[1] + hinge[1]) / 2 - 9} text-anchor="middle">{degrees(heelPitch)}</text>
        <text x={(hinge[0] + toe[0]) / 2} y={(hinge[1] + toe[1]) / 2 - 9} text-anchor="middle">{degrees(toePitch)}</text>
        <text class="line-place" x={heel[0]} y={top + 18} text-anchor="middle">heel</text>
        <text class="line-place" x={toe[0]} y={top + 18} text-anchor="middle">toe</text>
      </svg>
      <figcaption class="small">{says}.</figcaption>
    </figure>
  );
}
