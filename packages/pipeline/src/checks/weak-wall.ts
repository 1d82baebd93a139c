import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { Finding, Reading } from '../records.js';
import type { WeakPlace } from '../shell/weak-places.js';
import { weakPlaces } from '../shell/weak-places.js';
import type { CheckContext, CheckPart } from './check-context.js';
import { readingOf, unread } from './reading.js';

/** Most places of a kind that are told one by one. */
const TOLD = 4;

const WORDS: Record<WeakPlace['kind'], { readonly id: string; readonly label: string; readonly severity: Finding['severity'] }> = {
  thin: { id: 'wall-thin', label: 'thin wall', severity: 'note' },
  broken: { id: 'wall-broken', label: 'hole through the wall', severity: 'care' },
};

/** Where the wall of a shell is thin or broken through; only where both its sides were scanned. */
export function checkWeakWall({ shelled, aligned, measured, kind }: CheckContext): CheckPart {
  if (kind === 'positive') return { readings: [], findings: [] };
  const { wall, thickness } = shelled;
  if (wall === null || thickness === null) {
    const why = 'One side of the shell was scanned; thin places show where both were.';
    return { readings: Object.values(WORDS).map(({ id, label }) => unread({ id, label, unit: 'mm²' }, why)), findings: [] };
  }
  const places = weakPlaces(transformMesh(measured.settle, aligned.mesh), thickness, aligned.filled, wall.mm);
  const readings: Reading[] = [];
  const findings: Finding[] = [];
  for (const weak of ['thin', 'broken'] as const) {
    const { id, label, severity } = WORDS[weak];
    const own = places.filter((place) => place.kind === weak);
    if (own.length === 0) readings.push(readingOf({ id, label, value: 0, unit: 'mm²' }));
    own.slice(0, TOLD).forEach(({ area, at, thickness: least }, n) => {
      const code = n === 0 ? id : `${id}-${n + 1}`;
      readings.push(readingOf({ id: code, label, value: area, unit: 'mm²', at }));
      findings.push({ code, severity, value: area, limit: null, unit: 'mm²', uncertainty: null, at, text: say(weak, area, least, wall.mm) });
    });
  }
  return { readings, findings };
}

const say = (kind: WeakPlace['kind'], area: number, least: number, wall: number): string =>
  kind === 'thin'
    ? `The wall is thin over ${area.toFixed(0)} mm²: ${least.toFixed(1)} mm where ${wall.toFixed(1)} mm are usual on this shell. It may give way when plaster is poured in.`
    : `The wall is broken through over ${area.toFixed(0)} mm²; the foot's surface there was made up from what lies round it.`;
