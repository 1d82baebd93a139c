import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { triangleCount } from '@cast-to-last/geometry/mesh/mesh';
import { compactVertices, connectedPieces, keepTriangles, pieceAreas } from '@cast-to-last/geometry/mesh/components';
import { dropDegenerate } from '@cast-to-last/geometry/repair/drop-degenerate';
import { dropSpikes } from '@cast-to-last/geometry/repair/drop-spikes';
import { facesInward, flipTriangles, orientConsistently } from '@cast-to-last/geometry/repair/orient';
import { flipCaps } from '@cast-to-last/geometry/repair/flip-caps';
import { separateFans } from '@cast-to-last/geometry/repair/non-manifold';
import { pairEdges } from '@cast-to-last/geometry/mesh/pair-edges';
import { boundaryLoops, NON_MANIFOLD, twins, vertexTriangles } from '@cast-to-last/geometry/mesh/topology';
import { rememberedWeld } from '@cast-to-last/geometry/repair/remembered-weld';
import type { RememberedWeld } from '@cast-to-last/geometry/repair/remembered-weld';
import { stitch } from '@cast-to-last/geometry/repair/stitch';
import { bulk, weld, weldTolerance } from '@cast-to-last/geometry/repair/weld';
import type { RepairCounts, RepairedCast, Scan } from '../records.js';
import { closeHoles } from '../repair/close-holes.js';
import { findOpening } from '../repair/find-opening.js';
import { chooseCast } from '../repair/choose-cast.js';
import { withoutRimStrip } from '../repair/rim-strip.js';
import { separateSheets } from '../repair/separate-sheets.js';
import { partCuts } from '../repair/open-cuts.js';
import { findSupports } from '../repair/supports.js';
import { withoutTable } from '../repair/table.js';
import { isDoubleWalled } from '../repair/double-wall.js';

export const REPAIR_DEFAULTS = {
  /** Share of edges without exactly two triangles above which a wider weld is tried. */
  unmatched: 0.05,
  /** Each wider weld is this times the one before, up to this share of the diagonal (0.03 mm on a foot). */
  widerWeld: 8,
  widestWeld: 1e-4,
  /** A wider weld must leave at most this share of the unmatched edges, and collapse at most this share of the triangles. */
  betterBy: 0.5,
  collapsed: 0.02,
  /** Widest crack between two patches that is stitched, over the diagonal (0.1 mm on a foot). */
  crack: 3e-4,
  /** Cracks are said from this many edges on. */
  saidCrack: 20,
  /** Most rounds of making the mesh manifold; each but the last drops triangles, and two or three do as a rule. */
  manifoldRounds: 20,
} as const;

/**
 * Makes one connected, manifold, outward surface of a scan, closed but for the opening at the top.
 *
 * @throws CastError `fragmented-scan`, `too-much-missing`
 */
export function repairCast(scan: Scan): RepairedCast {
  const joined = weldAndPair(scan.mesh);
  const oriented = orientConsistently(joined.mesh.triangles, joined.twin);
  const whole: Mesh = { positions: joined.mesh.positions, triangles: oriented.triangles };
  const chosen = chooseCast(whole, { piece: oriented.piece, count: oriented.pieces }, scan.kind);
  const warnings = [...chosen.warnings];
  if (joined.stitched >= REPAIR_DEFAULTS.saidCrack) warnings.push('The surface was written in patches with cracks between them; the cracks were closed.');
  let cast = largestPart(whole, oriented.twin, chosen.keep);
  const onCast = withoutTable(cast.mesh);
  if (onCast) {
    warnings.push('The cast was scanned together with the table it stood on; the table was cut away, and the cast just above it closed.');
    cast = largestPart(cast.mesh, cast.twin, onCast);
  }
  const isShell = scan.kind !== 'positive';
  let outerSheet = chosen.outer === null ? null : compactVertices({ positions: whole.positions, triangles: keepTriangles(whole.triangles, oriented.twin, chosen.outer).triangles });
  const sheets = isShell && outerSheet === null ? separateSheets(cast.mesh) : null;
  if (sheets) {
    outerSheet = compactVertices({ positions: cast.mesh.positions, triangles: keepTriangles(cast.mesh.triangles, cast.twin, sheets.outer).triangles });
    cast = largestPart(cast.mesh, cast.twin, sheets.inner);
  }
  const single = makeManifold(cast, joined.nonManifoldEdges + oriented.cutEdges > 0, 2 * joined.tolerance);
  const faced = faceOutward(single);
  const supports = isShell ? null : findSupports(faced.mesh, faced.twin);
  if (supports) warnings.push('The cast was scanned together with pegs, blocks or a plate that it stood on; they were cut away, and the sole above them closed.');
  const bare = isShell ? withoutRimStrip(faced.mesh, faced.twin) : (supports?.keep ?? null);
  const { mesh, twin } = bare === null ? faced : largestPart(faced.mesh, faced.twin, bare);

  const around = vertexTriangles(mesh);
  const { loops, cuts } = partCuts(mesh, around, boundaryLoops(mesh, twin));
  const candidates = supports === null ? loops : loops.filter((loop) => !supports.isEdge(loop, mesh.positions));
  const at = findOpening(mesh, candidates, around);
  const opening = at < 0 ? null : candidates[at];
  const holes = loops.filter((loop) => loop !== opening);
  const closed = closeHoles(mesh, around, holes, opening, onCast !== null || supports !== null);
  warnings.push(...closed.warnings);
  if (!isShell && isDoubleWalled(mesh)) warnings.push('The scan shows both sides of a thin shell; both were kept.');
  const repairs: RepairCounts = {
    weldedVertices: joined.weldedVertices,
    degenerateTriangles: joined.degenerate,
    duplicateTriangles: joined.duplicate,
    piecesDropped: chosen.dropped,
    trianglesDropped: triangleCount(whole) - triangleCount(mesh),
    trianglesFlipped: countFlipped(oriented.flipped, chosen.keep, faced.inward),
    nonManifoldEdges: joined.nonManifoldEdges + oriented.cutEdges,
    nonManifoldVertices: single.nonManifoldVertices,
    holesFilled: holes.length,
    areaFilled: closed.area,
  };
  // Of a positive a slit is a strip that the scanner missed.
  return { mesh: closed.mesh, opening, filled: closed.filled, repairs, outerSheet, openCuts: isShell ? cuts : [], warnings };
}

/** Triangles of the chosen piece that face the other way than in the scan. */
function countFlipped(flipped: Uint8Array, keep: Uint8Array, inward: boolean): number {
  let count = 0;
  for (let t = 0; t < keep.length; t++) if (keep[t] === 1 && (flipped[t] === 1) !== inward) count++;
  return count;
}

interface Joined {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
  readonly tolerance: number;
  readonly weldedVertices: number;
  readonly degenerate: number;
  readonly duplicate: number;
  readonly nonManifoldEdges: number;
  /** Pairs of edges across cracks that were joined. */
  readonly stitched: number;
}

/** Welds at the tolerance that the coordinates' precision asks for; wider where that leaves many edges without a partner. */
function weldAndPair(scan: Mesh): Joined {
  const d = REPAIR_DEFAULTS;
  const box = bulk(scan.positions);
  const size = Math.hypot(box[3] - box[0], box[4] - box[1], box[5] - box[2]);
  let best: Joined | null = null;
  let fewest = Infinity;
  for (let tolerance = weldTolerance(scan.positions); ; tolerance *= d.widerWeld) {
    const welded: RememberedWeld = best === null ? rememberedWeld(scan) : weld(scan, tolerance);
    const distinct = dropDegenerate(welded.mesh.triangles);
    const mesh = { positions: welded.mesh.positions, triangles: distinct.triangles };
    const pairs = pairEdges(mesh);
    const unmatched = pairs.boundaryEdges + pairs.nonManifoldEdges;
    const collapsed = best === null ? 0 : distinct.degenerate - best.degenerate;
    if (best !== null && (unmatched > d.betterBy * fewest || collapsed > d.collapsed * triangleCount(scan))) break;
    fewest = unmatched;
    best = {
      mesh,
      twin: pairs.twin,
      tolerance,
      weldedVertices: welded.welded,
      degenerate: distinct.degenerate,
      duplicate: distinct.duplicate,
      nonManifoldEdges: pairs.nonManifoldEdges,
      stitched: 0,
    };
    if (unmatched <= d.unmatched * 1.5 * triangleCount(mesh) || tolerance * d.widerWeld > d.widestWeld * size) break;
  }
  return withoutCracks(best, d.crack * size);
}

function withoutCracks(joined: Joined, reach: number): Joined {
  const stitched = stitch(joined.mesh, joined.twin, reach);
  if (stitched.edges === 0) return joined;
  const distinct = dropDegenerate(stitched.mesh.triangles);
  const mesh = { positions: stitched.mesh.positions, triangles: distinct.triangles };
  const pairs = pairEdges(mesh);
  return {
    ...joined,
    mesh,
    twin: pairs.twin,
    degenerate: joined.degenerate + distinct.degenerate,
    duplicate: joined.duplicate + distinct.duplicate,
    nonManifoldEdges: pairs.nonManifoldEdges,
    stitched: stitched.edges,
  };
}

interface Part {
  readonly mesh: Mesh;
  readonly twin: Int32Array;
}

/** The largest piece of the triangles marked in `keep`. */
function largestPart(mesh: Mesh, twin: Int32Array, keep: Uint8Array): Part {
  const pieces = connectedPieces(twin, keep);
  let largest = keep;
  if (pieces.count > 1) {
    const areas = pieceAreas(mesh, pieces);
    const main = areas.reduce((best, area, i) => (area > areas[best] ? i : best), 0);
    largest = keep.map((_, t) => (pieces.piece[t] === main ? 1 : 0));
  }
  if (!largest.includes(0)) return { mesh: compactVertices(mesh), twin };
  const kept = keepTriangles(mesh.triangles, twin, largest);
  return { mesh: compactVertices({ positions: mesh.positions, triangles: kept.triangles }), twin: kept.twin };
}

/**
 * One fan at every vertex, at most two triangles on every edge, no caps lower than `height` (mm), one piece. `crossed`
 * says that edges were cut apart before; one that its two ends still hold together loses its triangles.
 */
function makeManifold(cast: Part, crossed: boolean, height: number): Part & { readonly nonManifoldVertices: number } {
  let { mesh, twin }: Part = cast;
  let nonManifoldVertices = 0;
  let settled = false;
  for (let round = 0; round < REPAIR_DEFAULTS.manifoldRounds && !settled; round++) {
    const blunt = dropSpikes(mesh, twin);
    const separated = separateFans({ positions: mesh.positions, triangles: blunt.triangles }, blunt.twin);
    nonManifoldVertices += separated.nonManifoldVertices;
    const uncapped = flipCaps(separated.mesh, separated.twin, height);
    mesh = { positions: separated.mesh.positions, triangles: uncapped.triangles };
    twin = uncapped.twin;
    settled = uncapped.dropped + blunt.dropped === 0;
    if (!crossed) continue;
    const bad = twins(mesh);
    const keep = new Uint8Array(triangleCount(mesh)).fill(1);
    for (let h = 0; h < bad.length; h++) if (bad[h] === NON_MANIFOLD) keep[(h / 3) | 0] = 0;
    if (!keep.includes(0)) continue;
    settled = false;
    const kept = keepTriangles(mesh.triangles, twin, keep);
    mesh = { positions: mesh.positions, triangles: kept.triangles };
    twin = kept.twin;
  }
  return { ...largestPart(mesh, twin, new Uint8Array(triangleCount(mesh)).fill(1)), nonManifoldVertices };
}

/** The mesh turned so that it faces outward, and whether that took turning. */
function faceOutward({ mesh, twin }: Part): Part & { readonly inward: boolean } {
  if (!facesInward(mesh, boundaryLoops(mesh, twin))) return { mesh, twin, inward: false };
  const turned = flipTriangles(mesh.triangles, twin, new Uint8Array(triangleCount(mesh)).fill(1));
  return { mesh: { positions: mesh.positions, triangles: turned.triangles }, twin: turned.twin, inward: true };
}
