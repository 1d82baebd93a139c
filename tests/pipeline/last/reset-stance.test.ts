import { describe, expect, it } from 'vitest';
import type { HingedFootbed } from '@cast-to-last/foot/footbed';
import { solePlanes } from '@cast-to-last/foot/position/sole-planes';
import { soleVertices } from '@cast-to-last/foot/position/sole-part';
import { selfCrossings } from '@cast-to-last/geometry/crossings/self-crossings';
import { boundaryLoops, twins } from '@cast-to-last/geometry/mesh/topology';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import type { LastBody, LastChange, LastStep } from '@cast-to-last/pipeline/last/last-body';
import { resetStance } from '@cast-to-last/pipeline/last/reset-stance';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { makePhantom } from '../../phantoms/make-phantom.js';
import { planCast } from '../../phantoms/position/plan-cast.js';
import { castBody, mirroredBody } from '../../support/cast-body.ts';
import { edgedSlab } from '../../support/edged-slab.ts';
import { placedBody } from '../../support/placed-body.ts';
import { standing } from '../../support/standing.ts';

const DEG = Math.PI / 180;
const asCast = { heelHeightMm: null, toeSpringMm: null };

const change = ({ changes }: LastStep, id: string): LastChange => {
  const found = changes.find((c) => c.id === id);
  if (found === undefined) throw new Error(`no change ${id}`);
  return found;
};

/** Bend and crease read off a body anew, without anything that the step knew; what the arc bent is left out. */
function readAnew({ mesh, landmarks, side }: LastBody, margin: number): { bend: number; crease: number } {
  const cast = standing(mesh, { landmarks, side });
  const planes = solePlanes(cast, soleVertices(cast), { margin });
  if (planes === null) throw new Error('no planes');
  return { bend: planes.bend / DEG, crease: planes.crease };
}

/** Slope (degrees) of the front of a slab's sole: through the vertices that were level before it was bent, behind which nothing is round. */
function frontSlope(before: LastBody, { mesh: { positions: q } }: LastBody, bend: number): number {
  const p = before.mesh.positions;
  let [n, x, z, xx, xz] = [0, 0, 0, 0, 0];
  for (let i = 0; i < p.length; i += 3) {
    if (p[i] < 230 || Math.abs(p[i + 2] - Math.tan(bend * DEG) * (p[i] - 185)) > 1e-9) continue;
    n++;
    x += q[i];
    z += q[i + 2];
    xx += q[i] * q[i];
    xz += q[i] * q[i + 2];
  }
  return Math.atan((n * xz - x * z) / (n * xx - x * x)) / DEG;
}

const sum = (flags: Uint8Array): number => flags.reduce((a, b) => a + b, 0);

describe('resetStance on a slab bent at a known place', () => {
  it('hands the body on where nothing is asked for', () => {
    const body = edgedSlab({ bend: 12 });
    expect(resetStance(body, asCast, null).body).toBe(body);
  });

  it.each([
    { bend: 12, heel: 20, toe: null, side: 'right' as const },
    { bend: 12, heel: null, toe: 5, side: 'left' as const },
    { bend: 8, heel: 35, toe: 18, side: 'right' as const },
    { bend: 20, heel: 0, toe: 10, side: 'left' as const },
  ])('reaches the angles that heights ask for: bend $bend°, heel $heel mm, toe spring $toe mm, $side', ({ bend, heel, toe, side }) => {
    const body = edgedSlab({ bend, side, edge: 5 });
    const step = resetStance(body, { heelHeightMm: heel, toeSpringMm: toe }, null);
    // By hand: the rear plane is the rest plane, the crease at x = 185; the heel centre at 41.6 mm, the toe tip 20 mm over the front.
    const [rear, front] = [185 - body.landmarks.heelCentre[0], 75 * Math.cos(bend * DEG) + (20 + 75 * Math.tan(bend * DEG)) * Math.sin(bend * DEG)];
    const spring = toe ?? front * Math.sin(bend * DEG);
    const wanted = Math.asin((heel ?? 0) / rear) / DEG + Math.asin(spring / front) / DEG;
    expect(change(step, 'sole-bend').before).toBeCloseTo(bend, 1);
    expect(Math.abs(change(step, 'sole-bend').asked! - wanted)).toBeLessThan(0.1);
    expect(Math.abs(frontSlope(body, step.body, bend) - wanted)).toBeLessThan(0.1);
    expect(Math.abs(change(step, 'toe-spring').got - spring)).toBeLessThan(0.2);
    expect(step.warnings).toEqual([]);
  });

  it('turns what lies ahead rigidly, leaves what lies behind bit for bit, and keeps the sole\'s length', () => {
    const body = edgedSlab({ bend: 10 });
    const { mesh } = resetStance(body, { heelHeightMm: 25, toeSpringMm: null }, null).body;
    const [p, q] = [body.mesh.positions, mesh.positions];
    let [behind, ahead] = [0, 0];
    const first = p.findIndex((c, i) => i % 3 === 0 && c > 235);
    for (let i = 0; i < p.length; i += 3) {
      if (p[i] < 140) {
        behind++;
        expect([q[i], q[i + 1], q[i + 2]]).toEqual([p[i], p[i + 1], p[i + 2]]);
      } else if (p[i] > 235) {
        ahead++;
        const far = (r: Float64Array): number => Math.hypot(r[i] - r[first], r[i + 1] - r[first + 1], r[i + 2] - r[first + 2]);
        expect(Math.abs(far(q) - far(p))).toBeLessThan(1e-9);
      }
    }
    expect(Math.min(behind, ahead)).toBeGreaterThan(1000);
    expect(Math.abs(soleLength(mesh.positions) - soleLength(p))).toBeLessThan(0.1);

    /** Along the line of vertices of the sole nearest to the midline. */
    function soleLength(r: Float64Array): number {
      const line: number[] = [];
      for (let i = 0; i < p.length; i += 3) if (Math.abs(p[i + 1] + 1) < 1e-9 && p[i] >= 40 && p[i] <= 220) line.push(i);
      line.sort((a, b) => p[a] - p[b]);
      return line.slice(1).reduce((length, i, k) => length + Math.hypot(r[i] - r[line[k]], r[i + 2] - r[line[k] + 2]), 0);
    }
  });

  it('takes the cast\'s floor from the footbed, so that its own heights change nothing', () => {
    const bed: HingedFootbed = { heelHeightMm: 24, hingeHeightMm: 4, toeHeightMm: 10, heelToHingeMm: 180, hingeToToeMm: 90 };
    const pitch = Math.asin(20 / 180);
    const body = edgedSlab({ bend: 14 });
    const same = resetStance(body, { heelHeightMm: Math.sin(pitch) * (185 - body.landmarks.heelCentre[0]), toeSpringMm: null }, bed);
    expect(change(same, 'heel-pitch').before).toBeCloseTo(pitch / DEG, 9);
    expect(Math.abs(change(same, 'sole-bend').asked! - change(same, 'sole-bend').before)).toBeLessThan(0.05);
    // A lower heel on the same toe spring asks for as much less bend as the heel pitch falls.
    const lower = resetStance(body, { heelHeightMm: 0, toeSpringMm: null }, bed);
    expect(change(lower, 'sole-bend').before - change(lower, 'sole-bend').got).toBeCloseTo(pitch / DEG, 1);
    expect(change(lower, 'toe-spring').got).toBeCloseTo(change(lower, 'toe-spring').before, 1);
  });

  it('says that it stopped where more is asked for than a foot can be turned by', () => {
    const step = resetStance(edgedSlab({ bend: 0 }), { heelHeightMm: 100, toeSpringMm: 60 }, null);
    expect(step.warnings).toHaveLength(1);
    expect(step.warnings[0]).toMatch(/bent by \d+\.\d° where \d+\.\d° were asked for/);
    expect(change(step, 'sole-bend').got).toBeLessThan(change(step, 'sole-bend').asked! - 1);
  });

  it('changes nothing and says so where the sole rests on nothing', () => {
    const body = edgedSlab();
    const upside = { ...body, mesh: { positions: body.mesh.positions, triangles: body.mesh.triangles.slice().reverse() } };
    const step = resetStance(upside, { heelHeightMm: 20, toeSpringMm: null }, null);
    expect(step.body).toBe(upside);
    expect(step.warnings).toHaveLength(1);
  });
});

describe('resetStance on generated casts', () => {
  // Casts taken on hinged footbeds (even), and feet that were drawn with their toes in the air (odd).
  it.each([60, 61, 64, 65, 68, 69])('reaches the bend, moves nothing behind, and keeps the surface whole (seed %i)', (seed) => {
    const placed = seed % 2 === 0;
    const plan = placed ? planCast(3000 + (seed % 24), 12_000) : null;
    const body = plan ? placedBody(seed, plan.options.position, 14_000) : castBody(seed, { triangles: 14_000 });
    const step = resetStance(body, { heelHeightMm: 22, toeSpringMm: 14 }, plan?.casting.footbed ?? null);
    const bend = change(step, 'sole-bend');
    expect(Math.abs(bend.got - bend.asked!)).toBeLessThan(0.1);
    expect(Math.abs(change(step, 'toe-spring').got - 14)).toBeLessThan(0.3);
    expect(step.warnings).toEqual([]);
    const [p, q] = [body.mesh.positions, step.body.mesh.positions];
    const rear = 0.55 * body.landmarks.footLength;
    for (let i = 0; i < p.length; i += 3) if (p[i] < rear - 0.4 * p[i + 2]) for (let k = 0; k < 3; k++) expect(q[i + k]).toBe(p[i + k]);
    expect(sum(selfCrossings(step.body.mesh))).toBeLessThanOrEqual(sum(selfCrossings(body.mesh)));
    expect(boundaryLoops(step.body.mesh, twins(step.body.mesh)).length).toBe(body.opening === null ? 0 : 1);
    expect(step.body.landmarks.footLength).toBe(body.landmarks.footLength);
    expect(change(step, 'ball-girth-of-stance').asked).toBeNull();
  });

  // Feet whose soles rest on other places of their planes when they are turned, or whose crease moves.
  it.each([[24, { heelHeightMm: null, toeSpringMm: 14.7 }], [237, { heelHeightMm: 20.2, toeSpringMm: 13.7 }], [50, { heelHeightMm: 5.9, toeSpringMm: 17.7 }]] as const)('gives the scan of seed %i the toe spring that is asked for', async (seed, rule) => {
    const { scan, truth } = makePhantom(seed, { triangles: 30_000, denseTriangles: 30_000, unit: 'mm' });
    const input = { bytes: writeStl(scan), fileName: 'cast.stl', side: truth.side, kind: 'positive', unit: 'mm' } as const;
    const { measured, aligned } = await checkScan(input, DEFAULT_RULES, NO_DECISIONS, async (_name, _key, run) => run());
    const step = resetStance({ mesh: measured.mesh, opening: aligned.opening, filled: aligned.filled, landmarks: measured.landmarks, side: aligned.side }, rule, null);
    expect(Math.abs(change(step, 'toe-spring').got - rule.toeSpringMm)).toBeLessThan(0.05);
    expect(Math.abs(change(step, 'sole-bend').got - change(step, 'sole-bend').asked!)).toBeLessThan(0.1);
    expect(step.warnings).toEqual([]);
  });

  it('is read the same by the cast check, where the foot lies on its plates', () => {
    const plan = planCast(3004, 12_000);
    const body = placedBody(64, plan.options.position, 20_000);
    const step = resetStance(body, { heelHeightMm: 15, toeSpringMm: 14 }, plan.casting.footbed ?? null);
    expect(Math.abs(readAnew(step.body, 24).bend - change(step, 'sole-bend').asked!)).toBeLessThan(0.6);
  });

  it('does on the left foot what it does on the right one', () => {
    const body = castBody(62, { triangles: 12_000, side: 'right' });
    const rule = { heelHeightMm: 18, toeSpringMm: 12 };
    const [right, left] = [resetStance(body, rule, null), resetStance(mirroredBody(body), rule, null)];
    expect(left.body.side).toBe('left');
    for (const { id, got } of right.changes) expect(Math.abs(change(left, id).got - got), id).toBeLessThan(0.02);
    let most = 0;
    right.body.mesh.positions.forEach((c, i) => { most = Math.max(most, Math.abs(left.body.mesh.positions[i] - (i % 3 === 1 ? -c : c))); });
    expect(most).toBeLessThan(0.05);
  });
});
