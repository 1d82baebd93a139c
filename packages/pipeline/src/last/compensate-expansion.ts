import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { LastBody, LastStep } from './last-body.js';

/**
 * Takes the setting expansion of the cast's plaster out of every length: the body about the origin, divided by
 * 1 + percent / 100. A percentage of 0 hands the body on as it is.
 *
 * @param percent linear expansion of the plaster
 */
export function compensateExpansion(body: LastBody, percent: number): LastStep {
  if (percent === 0) return { body, changes: [], warnings: [] };
  const expanded = 1 + percent / 100;
  const before = body.landmarks.footLength;
  const landmarks = shrunkLandmarks(body.landmarks, expanded);
  const positions = body.mesh.positions.map((c) => c / expanded);
  return {
    body: { ...body, mesh: { positions, triangles: body.mesh.triangles }, landmarks },
    changes: [{ id: 'plaster-expansion', label: 'foot length without plaster expansion', unit: 'mm', before, asked: before / expanded, got: landmarks.footLength }],
    warnings: [],
  };
}

function shrunkLandmarks(landmarks: Landmarks, expanded: number): Landmarks {
  const at = ([x, y, z]: Point): Point => [x / expanded, y / expanded, z / expanded];
  const where = (point: Point | null): Point | null => (point === null ? null : at(point));
  return {
    footLength: landmarks.footLength / expanded,
    pternion: at(landmarks.pternion),
    toeTip: at(landmarks.toeTip),
    heelCentre: at(landmarks.heelCentre),
    ballCentre: at(landmarks.ballCentre),
    medialBall: at(landmarks.medialBall),
    lateralBall: at(landmarks.lateralBall),
    instep: where(landmarks.instep),
    waist: where(landmarks.waist),
    crook: where(landmarks.crook),
    heelCorner: at(landmarks.heelCorner),
  };
}
