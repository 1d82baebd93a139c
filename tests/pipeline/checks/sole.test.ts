import { describe, expect, it } from 'vitest';
import { checkBallOnHinge } from '@cast-to-last/pipeline/checks/ball-on-hinge';
import type { CheckPart } from '@cast-to-last/pipeline/checks/check-context';
import { checkForefootTwist } from '@cast-to-last/pipeline/checks/forefoot-twist';
import { checkHeelOnPlate } from '@cast-to-last/pipeline/checks/heel-on-plate';
import { checkSoleBend } from '@cast-to-last/pipeline/checks/sole-bend';
import { checkSoleFlatness } from '@cast-to-last/pipeline/checks/sole-flatness';
import type { Mark } from '@cast-to-last/pipeline/records';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { bedOf, onPlates } from '../../support/booted.ts';

const { check: rules } = DEFAULT_RULES;

const markOf = (vertices: Uint32Array): Mark => ({
  id: 'dent-1', kind: 'dent', centre: [38, 0, 0], depth: -3, area: 1900, length: 50, width: 50, decision: 'smooth', why: '', vertices, centreVertex: vertices[0], margin: 0,
});

const reading = (part: CheckPart, id: string) => part.readings.find((r) => r.id === id);
const severities = ({ findings }: CheckPart) => findings.map(({ code, severity }) => `${code} ${severity}`);

describe('bend of the sole', () => {
  const footbed = bedOf(9, 6);
  const bent = (bend: number) => checkSoleBend(onPlates({ bend, hinge: 185, casting: { footbed } }));

  it('is held against the footbed, and says heel and toe pitch', () => {
    const part = bent(16);
    expect(reading(part, 'sole-bend')).toMatchObject({ unit: 'deg', care: rules.soleBend.care, recast: rules.soleBend.recast, why: '' });
    expect(reading(part, 'sole-bend')?.value).toBeCloseTo(16, 3);
    expect(reading(part, 'sole-bend')?.wanted).toBeCloseTo(15, 9);
    expect(reading(part, 'heel-pitch')?.value).toBeCloseTo(10, 3);
    expect(reading(part, 'heel-pitch')?.wanted).toBeCloseTo(9, 9);
    expect(reading(part, 'toe-pitch')?.value).toBeCloseTo(7, 3);
    expect(reading(part, 'toe-pitch')?.wanted).toBeCloseTo(6, 9);
    expect(part.findings).toEqual([]);
    expect(reading(part, 'sole-bend')?.at?.[0]).toBeCloseTo(185, 1);
  });

  it('needs care and then a new cast on either side of what is wanted', () => {
    const { care, recast } = rules.soleBend;
    for (const sign of [-1, 1]) {
      expect(bent(15 + sign * (care - 0.3)).findings).toEqual([]);
      expect(severities(bent(15 + sign * (care + 0.3)))).toEqual(['sole-bend care']);
      // Just beyond the limit it may as well be within it.
      expect(severities(bent(15 + sign * (recast + 0.2)))).toEqual(['sole-bend care']);
      expect(severities(bent(15 + sign * 1.5 * recast))).toEqual(['sole-bend recast']);
    }
    const [finding] = bent(15 + 1.5 * recast).findings;
    expect(finding).toMatchObject({ code: 'sole-bend', unit: 'deg', limit: recast });
    expect(finding.text).toContain((15 + 1.5 * recast).toFixed(1));
    expect(finding.text).toContain('15.0°');
  });

  it('is read but not weighed where the order names no footbed', () => {
    const part = checkSoleBend(onPlates({ bend: 30, hinge: 185 }));
    expect(reading(part, 'sole-bend')).toMatchObject({ wanted: null, care: null, recast: null });
    expect(reading(part, 'sole-bend')?.value).toBeCloseTo(30, 3);
    expect(reading(part, 'sole-bend')?.why).toContain('footbed');
    expect(reading(part, 'heel-pitch')?.value).toBeNull();
    expect(part.findings).toEqual([]);
  });

  it('is not read off a sole that is mostly missing', () => {
    const whole = onPlates({ bend: 15, hinge: 185, casting: { footbed } });
    const filled = Uint8Array.from({ length: whole.filled.length }, (_, v) => +(whole.surface.positions[3 * v] < 70));
    const part = checkSoleBend({ ...whole, filled });
    expect(reading(part, 'sole-bend')).toMatchObject({ value: null, uncertainty: null });
    expect(reading(part, 'sole-bend')?.why).toContain('heel');
    expect(part.findings).toEqual([]);
    // Half of the heel is enough, and less sure.
    const half = Uint8Array.from({ length: whole.filled.length }, (_, v) => +(whole.surface.positions[3 * v] < 36));
    const less = reading(checkSoleBend({ ...whole, filled: half }), 'sole-bend');
    expect(less?.value).toBeCloseTo(15, 2);
    expect(less?.uncertainty).toBeGreaterThan((reading(checkSoleBend({ ...whole }), 'sole-bend')?.uncertainty ?? 9) + 0.3);
  });
});

describe('ball on the hinge', () => {
  const at = (hinge: number, bend = 15, footbed = bedOf(9, 6)) => checkBallOnHinge(onPlates({ bend, hinge, casting: { footbed } }));

  it('is how far the crease lies ahead of the inside of the ball', () => {
    const ahead = reading(at(196), 'ball-on-hinge');
    expect(ahead?.value).toBeCloseTo(6, 1);
    expect(ahead?.at?.[0]).toBeCloseTo(196, 1);
    expect(reading(at(184), 'ball-on-hinge')?.value).toBeCloseTo(-6, 1);
    expect(at(190).findings).toEqual([]);
  });

  it('needs care, then a new cast, and says which way the foot stood', () => {
    const { care, recast } = rules.ballOnHinge;
    expect(severities(at(190 + care + 1))).toEqual(['ball-on-hinge care']);
    expect(severities(at(190 - 1.5 * recast))).toEqual(['ball-on-hinge recast']);
    expect(at(190 - 1.5 * recast).findings[0].text).toContain('behind');
    expect(at(190 + care + 1).findings[0].text).toContain('ahead of');
  });

  it('cannot be read off a bend under 4°, and is not weighed without a footbed', () => {
    expect(reading(at(190, 3), 'ball-on-hinge')).toMatchObject({ value: null });
    const part = checkBallOnHinge(onPlates({ bend: 15, hinge: 160 }));
    expect(reading(part, 'ball-on-hinge')?.value).toBeCloseTo(-30, 0);
    expect(part.findings).toEqual([]);
  });
});

describe('twist of the forefoot', () => {
  it('is weighed with or without a footbed', () => {
    const twisted = (twist: number) => checkForefootTwist(onPlates({ bend: 25, twist, hinge: 190 }));
    expect(reading(twisted(2), 'forefoot-twist')?.value).toBeCloseTo(2, 1);
    expect(twisted(2).findings).toEqual([]);
    const { care } = rules.forefootTwist;
    expect(severities(twisted(-care - 1))).toEqual(['forefoot-twist care']);
    expect(twisted(-care - 1).findings[0].text).toContain('outer edge up');
  });
});

describe('heel on its plate', () => {
  /** The heel seat turned up by so many degrees about its front end. */
  const lifted = (degrees: number) =>
    checkHeelOnPlate(onPlates({ bend: 12, hinge: 185, off: (x) => Math.tan((degrees * Math.PI) / 180) * Math.max(0, 80 - x) + (x > 90 && x < 150 ? 8 : 0) }));

  it('reads the pitch of the heel seat, heel up positive', () => {
    expect(reading(lifted(0), 'heel-on-plate')?.value).toBeCloseTo(0, 3);
    expect(reading(lifted(4), 'heel-on-plate')?.value).toBeCloseTo(4, 1);
    expect(lifted(0).findings).toEqual([]);
    expect(severities(lifted(1.5 * rules.heelOnPlate.recast))).toEqual(['heel-on-plate recast']);
    expect(lifted(1.5 * rules.heelOnPlate.recast).findings[0].text).toContain('heel up');
  });

  it.each([4, 7.5, 12])('is read off the plate, and so are bend and hinge, where a heel that sank by %f° tilts what the cast rests on', (down) => {
    // The cast rests on the heel's edge and the ball: the plate ahead of the seat, which ends at 75 mm, slopes down against that by a third of the angle.
    const slope = -Math.tan((down * Math.PI) / 540);
    const footbed = bedOf(9, 6);
    const sunk = onPlates({
      bend: 15, hinge: 190, casting: { footbed },
      off: (x, y) => slope * (x - 190) - Math.tan((down * Math.PI) / 180) * Math.max(0, 75 - x) + (x > 85 && x < 130 && y > 0 ? 8 : 0),
    });
    expect(Math.abs((reading(checkHeelOnPlate(sunk), 'heel-on-plate')?.value ?? 0) + down)).toBeLessThan(0.3);
    expect(Math.abs((reading(checkSoleBend(sunk), 'sole-bend')?.value ?? 0) - 15)).toBeLessThan(0.4);
    expect(Math.abs(reading(checkBallOnHinge(sunk), 'ball-on-hinge')?.value ?? 9)).toBeLessThan(0.5);
  });

  it('is told with less certainty of a round heel, which lies on no one plane, and asks for no new cast by that', () => {
    // An arc of 60 mm radius along the foot from 20 mm ahead of the heel on, a flatter one behind; the arch begins at 72 mm.
    const round = checkHeelOnPlate(onPlates({ bend: 12, hinge: 185, off: (x) => (x < 72 ? ((x - 20) ** 2 / 120) * (x < 20 ? 0.2 : 1) : x < 150 ? 8 : 0) }));
    const told = reading(round, 'heel-on-plate');
    expect(Math.abs(told?.value ?? 0)).toBeGreaterThan(rules.heelOnPlate.recast);
    expect(told?.uncertainty).toBeGreaterThan(2 * (reading(lifted(4), 'heel-on-plate')?.uncertainty ?? 9));
    expect(severities(round)).toEqual(['heel-on-plate care']);
  });

  it('is read off the flat as it was scanned where that was taken for a mark and rounded out', () => {
    // A round heel with a flat seat 23 mm in radius, which was smoothed to a dome of 3 mm that stands out askew; the arch begins at 72 mm.
    const off = (x: number, y: number) => (x > 150 ? 0 : x > 72 ? 8 : Math.max(0, Math.hypot(x - 38, y) - 23) ** 2 / 20);
    const scan = onPlates({ bend: 12, hinge: 185, off });
    const p = scan.surface.positions;
    const inSeat = (q: Float64Array, i: number): boolean => Math.hypot(q[i] - 38, q[i + 1]) < 25;
    const bulge = (i: number): number => (inSeat(p, i) ? -3 * (1 - ((p[i] - 38) ** 2 + p[i + 1] ** 2) / 625) * (1 + (p[i] - 38) / 40) : 0);
    const rounded = p.map((c, k) => (k % 3 === 2 ? c + bulge(k - 2) : c));
    const { positions: inspected } = scan.inspected.surface.mesh;
    const seat = Uint32Array.from({ length: inspected.length / 3 }, (_, v) => v).filter((v) => inSeat(inspected, 3 * v));
    const cleaned = { ...scan, surface: { ...scan.surface, positions: rounded }, inspected: { ...scan.inspected, marks: [markOf(seat)] } };
    expect(Math.abs(reading(checkHeelOnPlate({ ...cleaned, scanned: p }), 'heel-on-plate')?.value ?? 9)).toBeLessThan(0.1);
    expect(Math.abs(reading(checkHeelOnPlate({ ...cleaned, scanned: rounded }), 'heel-on-plate')?.value ?? 0)).toBeGreaterThan(1);
  });

  it('cannot be read where the heel is missing', () => {
    const whole = onPlates({ bend: 12, hinge: 185 });
    const filled = Uint8Array.from({ length: whole.filled.length }, (_, v) => +(whole.surface.positions[3 * v] < 60));
    expect(reading(checkHeelOnPlate({ ...whole, filled }), 'heel-on-plate')).toMatchObject({ value: null });
  });
});

describe('flatness of the sole', () => {
  it('is nothing on plates and a finding where the heel and the border hang through', () => {
    const flat = checkSoleFlatness(onPlates({ bend: 12, hinge: 185 }));
    expect(reading(flat, 'sole-flatness')?.value).toBeLessThan(0.05);
    expect(flat.findings).toEqual([]);
    const hung = checkSoleFlatness(onPlates({ bend: 12, hinge: 185, off: (x, y) => (y < 0 && x < 160 ? 7 : 0) }));
    expect(severities(hung)).toEqual(['sole-flatness care']);
    expect(reading(hung, 'sole-flatness')?.value).toBeGreaterThan(rules.soleFlatness.care);
  });
});
