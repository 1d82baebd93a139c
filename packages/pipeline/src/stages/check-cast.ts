import { triangleNormals } from '@cast-to-last/geometry/quantities';
import type { AlignedCast, CastCheck, Finding } from '../records.js';
import { wholeTo } from './align.js';

export const CHECK = {
  /** Height of the ankle bones as a share of foot length: 73 mm of 271 mm for men (ANSUR II, lateral malleolus). */
  ankleBones: 0.27,
  /** How far a cast shall reach above the ankle bones, mm. Common practice, no source. */
  aboveAnkle: 25,
  /** Share of the surface that repair may have made up before it is worth saying, and before it needs care. */
  filledNote: 0.003,
  filledCare: 0.03,
} as const;

/** What the scan lacks that a last needs: how far up it reaches, and how much of its surface repair had to make up. */
export function checkCast(cast: AlignedCast): CastCheck {
  const findings: Finding[] = [];
  const needed = CHECK.ankleBones * cast.landmarks.footLength + CHECK.aboveAnkle;
  const reach = cast.opening === null ? highest(cast.mesh.positions) : wholeTo(cast.mesh, cast.opening);
  if (reach < needed) {
    findings.push({
      code: 'stops-short',
      severity: 'care',
      value: reach,
      limit: needed,
      unit: 'mm',
      text: `The cast is whole up to ${reach.toFixed(0)} mm; about ${needed.toFixed(0)} mm are usual, 25 mm above the ankle bones. Girths above that cannot be taken.`,
    });
  }
  if (cast.opening === null) {
    findings.push({ code: 'top-closed', severity: 'note', value: null, limit: null, unit: '', text: 'The scan is closed at the top; the flat top counts as surface.' });
  }
  const share = filledShare(cast);
  if (share > CHECK.filledNote) {
    findings.push({
      code: 'surface-made-up',
      severity: share > CHECK.filledCare ? 'care' : 'note',
      value: 100 * share,
      limit: 100 * CHECK.filledCare,
      unit: '%',
      text: `${(100 * share).toFixed(1)} % of the surface was missing in the scan and has been made up from what lies round it.`,
    });
  }
  const verdict = findings.some((f) => f.severity === 'care') ? 'usable-with-care' : 'usable';
  return { verdict, findings };
}

function highest(positions: Float64Array): number {
  let z = -Infinity;
  for (let i = 2; i < positions.length; i += 3) if (positions[i] > z) z = positions[i];
  return z;
}

function filledShare(cast: AlignedCast): number {
  const normals = triangleNormals(cast.mesh);
  const t = cast.mesh.triangles;
  let all = 0;
  let made = 0;
  for (let i = 0; i < t.length; i += 3) {
    const area = Math.hypot(normals[i], normals[i + 1], normals[i + 2]);
    all += area;
    if (cast.filled[t[i]] + cast.filled[t[i + 1]] + cast.filled[t[i + 2]] >= 2) made += area;
  }
  return all === 0 ? 0 : made / all;
}
