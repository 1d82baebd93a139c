import { aheadOfBallLine } from '@cast-to-last/foot/ball-line';
import { rememberedTwins } from '@cast-to-last/geometry/mesh/remembered-topology';
import { twins } from '@cast-to-last/geometry/mesh/topology';
import type { LastBody, LastChange, LastStep } from '../last-body.js';
import { edgeLine } from './edge-line.js';
import { edgeRadius } from './edge-radius.js';
import type { FlatSlope } from './edge-shape.js';
import { edgeShape } from './edge-shape.js';
import type { FlatSole } from './flat-sole.js';
import { rimMesh } from './rim-mesh.js';
import { roundEdge } from './round-edge.js';
import type { SoleReading } from './sole-reading.js';

/** Where the toes begin whose edge is left alone, ahead of the line through the ball points, as a share of foot length. */
const TOES = 0.09;
/** Length inside the outline over which the slope of a flat sole is taken, mm. */
const RUN = 6;
/** Share of the outline without an edge that is worth a word. */
const SPARSE = 0.03;

/** The body with a crisp edge between sole and side; toes that are not level keep theirs. */
export function crispEdge(body: LastBody, reading: SoleReading, flat: FlatSole | null, radius: number): LastStep {
  const { mesh, landmarks } = body;
  const { map, outline, index, level } = reading;
  const rim = { positions: mesh.positions, triangles: reading.rim };
  const twin = rememberedTwins(rim);
  const at = (sample: number, inside: number, k: 0 | 1): number => outline.points[2 * sample + k] - inside * outline.outward[2 * sample + k];
  const leave = (sample: number): boolean => !level && aheadOfBallLine(at(sample, 0, 0), at(sample, 0, 1), landmarks) > TOES * landmarks.footLength;
  const slope: FlatSlope = (sample) => {
    if (flat === null) return null;
    const weight = flat.weight(at(sample, RUN / 2, 0), at(sample, RUN / 2, 1));
    const [here, inside] = [0, RUN].map((run) => flat.height(at(sample, run, 0), at(sample, run, 1)));
    return { slope: Math.atan((here - inside) / RUN), weight };
  };
  const shape = edgeShape(rim, twin, outline, map, slope, leave);
  const warnings = level ? [] : ['The toes are not level: the feather line round them stays as it was cast. last.toeBox.level levels them.'];
  if (shape === null) return { body, changes: [], warnings: ['The sole shows no edge: the feather line stays as it was cast.'] };
  let missing = 0;
  for (let s = 0; s < outline.count; s++) if (shape.found[s] === 0 && !leave(s)) missing++;
  if (missing > SPARSE * outline.count) warnings.push(`The sole shows no edge over ${((100 * missing) / outline.count).toFixed(0)} % of its outline: the feather line stays as it was cast there.`);
  const before = edgeRadius(rim, twin, outline, map, landmarks);
  const rounded = roundEdge(mesh, shape, index, radius);
  const roundedRim = rimMesh(rounded.mesh, index, landmarks.footLength);
  const roundedTwin = twins(roundedRim);
  const got = edgeRadius(roundedRim, roundedTwin, outline, map, landmarks);
  if (before < radius) warnings.push(`The foot's own edge is sharper (${before.toFixed(1)} mm) than the feather line asked for: it is not cut.`);
  const changes: LastChange[] = [
    { id: 'feather-radius', label: 'radius of the feather line', unit: 'mm', before, asked: radius, got },
    { id: 'feather-added', label: 'most that was added at the feather line', unit: 'mm', before: 0, asked: null, got: rounded.most },
  ];
  const feather = edgeLine(roundedRim, roundedTwin, outline, map);
  return { body: { ...body, mesh: rounded.mesh, filled: filledAlong(body.filled, rounded.ends), feather }, changes, warnings };
}

/** What repair made, carried on to new vertices: those between two that it made. */
function filledAlong(filled: Uint8Array, ends: Uint32Array): Uint8Array {
  const out = new Uint8Array(filled.length + ends.length / 2);
  out.set(filled);
  for (let i = 0; i < ends.length; i += 2) out[filled.length + i / 2] = out[ends[i]] & out[ends[i + 1]];
  return out;
}
