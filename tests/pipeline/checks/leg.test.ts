import { describe, expect, it } from 'vitest';
import type { CheckContext, CheckPart } from '@cast-to-last/pipeline/checks/check-context';
import { checkForwardLean } from '@cast-to-last/pipeline/checks/forward-lean';
import { checkRearView } from '@cast-to-last/pipeline/checks/rear-view';
import type { Casting } from '@cast-to-last/pipeline/order';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import type { Side } from '@cast-to-last/foot/side';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { bedOf, bodyContext } from '../../support/booted.ts';
import { leaningPipe } from '../../support/leaning-pipe.ts';
import { plateSole } from '../../support/standing.ts';

const { check: rules } = DEFAULT_RULES;
const severities = ({ findings }: CheckPart) => findings.map(({ code, severity }) => `${code} ${severity}`);

/** An oval pipe that leans by so many degrees in the foot frame, forward and to the inner side; open above at 180 mm. */
function leg(forward: number, inward: number, casting: Casting = {}, side: Side = 'right', crook = 80): CheckContext {
  const mesh = leaningPipe(forward, inward, side);
  const { positions } = mesh;
  const opening = boundaryLoops(mesh).find((loop) => positions[3 * loop[0] + 2] > 100) ?? null;
  const context = bodyContext(mesh, { casting, side, landmarks: { crook: [105, 0, crook] } });
  return { ...context, aligned: { ...context.aligned, opening } };
}

describe('forward lean of the shank', () => {
  const footbed = bedOf(8, 5);

  it('is that against the floor: the heel pitch of the bed leans the shank forward', () => {
    const [reading] = checkForwardLean(leg(-4, 0, { footbed })).readings;
    expect(reading.value).toBeCloseTo(4, 2);
    expect(reading).toMatchObject({ id: 'forward-lean', unit: 'deg', wanted: rules.disciplines.other.forwardLeanDeg, care: rules.disciplines.other.forwardLean.care });
    expect(reading.at?.[2]).toBeGreaterThan(84);
  });

  it('is weighed by the discipline, or by what was agreed', () => {
    const skating = rules.disciplines['skating-type'];
    const at = (lean: number, casting: Casting = {}) => checkForwardLean(leg(lean - 8, 0, { footbed, discipline: 'skating-type', ...casting }));
    expect(at(skating.forwardLeanDeg).findings).toEqual([]);
    expect(severities(at(skating.forwardLeanDeg + skating.forwardLean.care + 1))).toEqual(['forward-lean care']);
    expect(severities(at(skating.forwardLeanDeg + 1.5 * skating.forwardLean.recast))).toEqual(['forward-lean recast']);
    expect(severities(at(skating.forwardLeanDeg - 1.5 * skating.forwardLean.recast))).toEqual(['forward-lean recast']);
    const agreed = at(22, { plan: { forwardLeanDeg: 21 } });
    expect(agreed.findings).toEqual([]);
    expect(agreed.readings[0].wanted).toBe(21);
    expect(at(1, { plan: { forwardLeanDeg: 21 } }).findings[0].text).toContain('agreed');
  });

  it('is read but not weighed without a footbed', () => {
    const part = checkForwardLean(leg(25, 0));
    expect(part.readings[0].value).toBeCloseTo(25, 2);
    expect(part.readings[0].why).toContain('footbed');
    expect(part.findings).toEqual([]);
  });

  it('is not read where the cast ends just above the crook, and less surely where it ends soon', () => {
    expect(checkForwardLean(leg(5, 0, { footbed }, 'right', 163)).readings[0]).toMatchObject({ value: null });
    expect(checkForwardLean(leg(5, 0, { footbed }, 'right', 160)).readings[0].value).not.toBeNull();
  });
});

describe('lean in the rear view', () => {
  it.each(['left', 'right'] as const)('is positive towards the inner side of a %s foot, and wants no footbed', (side) => {
    const [reading] = checkRearView(leg(0, 3, {}, side)).readings;
    expect(reading).toMatchObject({ id: 'rear-view', wanted: 0 });
    expect(reading.value).toBeCloseTo(3, 1);
  });

  /** The leg over a sole; `first` is the first vertex of the sole. */
  const overSole = (off: (x: number, y: number) => number) => {
    const { surface: pipe } = leg(0, 3);
    const sole = plateSole({ bend: 0, hinge: 185, off });
    const first = pipe.positions.length / 3;
    const mesh = {
      positions: new Float64Array([...pipe.positions.map((c, i) => (i % 3 === 2 ? c + 1 : c)), ...sole.positions]),
      triangles: new Uint32Array([...pipe.triangles, ...sole.triangles.map((v) => v + first)]),
    };
    return { mesh, first };
  };

  it('is surer where a plate carries the cast all round than where three points of its sole do', () => {
    const uncertainty = (off: (x: number, y: number) => number): number =>
      checkRearView(bodyContext(overSole(off).mesh, { landmarks: { crook: [105, 0, 80] } })).readings[0].uncertainty ?? NaN;
    expect(uncertainty((x, y) => 0.01 * (y * y + (x < 100 ? (x - 40) ** 2 : (x - 180) ** 2)))).toBeGreaterThan(uncertainty(() => 0) + 0.4);
  });

  it('is less sure where the cast rests on made-up surface', () => {
    const { mesh, first } = overSole(() => 0);
    const uncertainty = (made: number): number => {
      const whole = bodyContext(mesh, { landmarks: { crook: [105, 0, 80] } });
      const filled = Uint8Array.from({ length: whole.filled.length }, (_, v) => +(v >= first && mesh.positions[3 * v] < made));
      return checkRearView({ ...whole, filled }).readings[0].uncertainty ?? NaN;
    };
    expect(uncertainty(60)).toBeGreaterThan(uncertainty(0) + 0.3);
  });

  it('is weighed against upright or the plan that was agreed', () => {
    const { rearView } = rules.disciplines.other;
    expect(checkRearView(leg(0, rearView.care - 1)).findings).toEqual([]);
    expect(severities(checkRearView(leg(0, -rearView.care - 1)))).toEqual(['rear-view care']);
    expect(severities(checkRearView(leg(0, -1.5 * rearView.recast)))).toEqual(['rear-view recast']);
    expect(checkRearView(leg(0, -1.5 * rearView.recast, { plan: { rearViewDeg: -10 } })).findings).toEqual([]);
    expect(checkRearView(leg(0, 3, { plan: { rearViewDeg: -10 } })).findings[0].text).toContain('agreed');
  });
});
