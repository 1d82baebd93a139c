import { triangleNormals } from '@cast-to-last/geometry/quantities';
import type { AlignedCast, Finding, Reading } from '../records.js';
import { wholeTo } from '../stages/align.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { weigh } from './weigh.js';

export const COVERAGE = {
  /** Height of the ankle bones as a share of foot length: 73 mm of 271 mm for men (ANSUR II, lateral malleolus). */
  ankleBones: 0.27,
  /** Share of the surface, per cent, that repair may have made up before it is worth saying. */
  madeUpNote: 0.3,
} as const;

/** What the scan lacks that a last needs: how far up it reaches, and how much of its surface repair had to make up. */
export function checkCoverage({ aligned, measured, rules }: CheckContext): CheckPart {
  const findings: Finding[] = [];
  const bones = COVERAGE.ankleBones * measured.landmarks.footLength;
  const needed = bones + rules.aboveAnkleMm;
  const reach = aligned.opening === null ? highest(aligned.mesh.positions) : wholeTo(aligned.mesh, aligned.opening);
  const top: Reading = {
    id: 'stops-short', label: 'top edge', value: reach, uncertainty: null, unit: 'mm', wanted: needed, care: null, recast: null, why: '', at: null,
  };
  if (reach < needed) {
    findings.push({
      code: top.id, severity: 'care', value: reach, limit: needed, unit: 'mm', uncertainty: null, at: null,
      text: `The cast is whole up to ${reach.toFixed(0)} mm; about ${needed.toFixed(0)} mm are usual, ${rules.aboveAnkleMm} mm above the ankle bones. Girths above that cannot be taken.`,
    });
  }
  if (aligned.opening === null) {
    findings.push({
      code: 'top-closed', severity: 'note', value: null, limit: null, unit: '', uncertainty: null, at: null,
      text: 'The scan is closed at the top; the flat top counts as surface.',
    });
  }
  const share = 100 * filledShare(aligned);
  const { care, recast } = rules.madeUp;
  const madeUp: Reading = {
    id: 'surface-made-up', label: 'surface made up', value: share, uncertainty: null, unit: '%', wanted: 0, care, recast, why: '', at: null,
  };
  const text = `${share.toFixed(1)} % of the surface was missing in the scan and has been made up from what lies round it.`;
  const beyond = weigh(madeUp, () => text);
  if (beyond !== null) findings.push(beyond);
  else if (share > COVERAGE.madeUpNote) {
    findings.push({ code: madeUp.id, severity: 'note', value: share, limit: care, unit: '%', uncertainty: null, at: null, text });
  }
  return { readings: [top, madeUp], findings };
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
