import { describe, expect, it } from 'vitest';
import type { AlignedCast, CastCheck } from '@cast-to-last/pipeline/records';
import { COVERAGE, checkCoverage } from '@cast-to-last/pipeline/checks/coverage';
import { MEASURE_LABELS } from '@cast-to-last/foot/measures';
import type { Measurement } from '@cast-to-last/foot/measures';
import { checkSurfaceMadeUp } from '@cast-to-last/pipeline/checks/surface-made-up';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { verdictOf } from '@cast-to-last/pipeline/stages/check-cast';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { checkContext } from '../../support/check-context.ts';
import { castOf } from '../../support/marked.ts';
import { openCylinder } from '../../support/meshes.ts';

/** A pipe that stands on z = 0 and is open at `height` (its lower end stands for the sole). */
const standing = (height: number, footLength = 260): AlignedCast => {
  const mesh = openCylinder(40, height, 48, 100);
  const opening = boundaryLoops(mesh).find((loop) => mesh.positions[3 * loop[0] + 2] > height / 2) ?? null;
  return { ...castOf(mesh, { footLength }), opening };
};

/** The same with the share of its surface from the bottom made up. */
const made = (share: number): AlignedCast => {
  const cast = standing(150);
  return { ...cast, filled: Uint8Array.from({ length: cast.mesh.positions.length / 3 }, (_, v) => +(cast.mesh.positions[3 * v + 2] < share * 150)) };
};

const check = (aligned: AlignedCast): Pick<CastCheck, 'verdict' | 'findings'> => {
  const context = checkContext(aligned);
  const findings = [...checkCoverage(context).findings, ...checkSurfaceMadeUp(context).findings];
  return { verdict: verdictOf(findings), findings };
};

const codes = (cast: AlignedCast): string[] => check(cast).findings.map((f) => f.code);

describe('coverage', () => {
  it('finds nothing on one that reaches 25 mm above the ankle bones (the outside one at 0.27 of the length: ANSUR II)', () => {
    expect(check(standing(150))).toEqual({ verdict: 'usable', findings: [] });
  });

  it('says where one stops short, with the height it has and the height it needs', () => {
    const needed = COVERAGE.outsideBone * 260 + COVERAGE.insideOverOutside + 25;
    expect(codes(standing(needed + 0.1))).toEqual([]);
    const { verdict, findings } = check(standing(needed - 0.1));
    expect(verdict).toBe('usable-with-care');
    expect(findings[0]).toMatchObject({ code: 'stops-short', severity: 'care', unit: 'mm' });
    expect(findings[0].value).toBeCloseTo(needed - 0.1, 9);
    expect(findings[0].limit).toBeCloseTo(needed, 9);
    // A longer foot has higher ankles.
    expect(codes(standing(needed + 0.1, 300))).toEqual(['stops-short']);
  });

  it('asks for a new cast where one ends so low that a girth is missing which every last is built to', () => {
    const severity = (height: number, ...absent: readonly ('instep-girth' | 'short-heel-girth' | 'waist-girth')[]) => {
      const measurements: Measurement[] = absent.map((id) => ({ id, label: MEASURE_LABELS[id], on: 'cast', absent: 'The top of the foot is open there.' }));
      const context = checkContext(standing(height));
      return checkCoverage({ ...context, measured: { ...context.measured, measurements } }).findings.map((f) => f.severity);
    };
    expect(severity(60)).toEqual(['care']);
    expect(severity(60, 'short-heel-girth')).toEqual(['care']);
    expect(severity(60, 'instep-girth', 'waist-girth')).toEqual(['recast']);
    // One that reaches high enough lacks the girth for another reason.
    expect(severity(150, 'instep-girth')).toEqual([]);
    const context = checkContext(standing(60));
    const [{ text }] = checkCoverage({ ...context, measured: { ...context.measured, measurements: [{ id: 'instep-girth', label: MEASURE_LABELS['instep-girth'], on: 'cast', absent: 'Open.' }] } }).findings;
    expect(text).toContain('So the instep girth cannot be taken');
    expect(text).toContain('Scan the cast again if it is whole there.');
  });

  it('holds it against the inside ankle bone where that stands out', () => {
    const cast = standing(150);
    const { positions, triangles } = cast.mesh;
    const p = positions.slice();
    for (let i = 0; i < p.length; i += 3) {
      p[i] += 60;
      if (p[i + 1] > 0) p[i + 1] += 6 * Math.exp(-(((p[i] - 62) / 12) ** 2 + ((p[i + 2] - 68) / 12) ** 2));
    }
    const [reading] = checkCoverage(checkContext({ ...cast, mesh: { positions: p, triangles } })).readings;
    expect(Math.abs((reading.wanted ?? 0) - 25 - 68)).toBeLessThan(2);
    expect(reading.why).toBe('');
    expect(Math.abs((reading.at?.[2] ?? 0) - 68)).toBeLessThan(2);
    const [unseen] = checkCoverage(checkContext(cast)).readings;
    expect(unseen.why).toContain('does not show');
    expect(unseen.uncertainty).toBeGreaterThan(reading.uncertainty ?? 99);
  });

  it('notes a closed top, and counts its height as what it reaches', () => {
    const capped = { ...standing(150), opening: null };
    expect(codes(capped)).toEqual(['top-closed']);
    expect(check(capped).verdict).toBe('usable');
    expect(codes({ ...standing(60), opening: null })).toEqual(['stops-short', 'top-closed']);
  });

  it('says how much of the surface repair made up: nothing under 0.3 %, a note up to 3 %, care above, a recast beyond 12 %', () => {
    expect(codes(made(0))).toEqual([]);
    const note = check(made(0.02));
    expect(note.verdict).toBe('usable');
    expect(note.findings[0]).toMatchObject({ code: 'surface-made-up', severity: 'note', unit: '%', limit: DEFAULT_RULES.check.madeUp.care });
    // Made up are the triangles with two corners below 2 %: one row of a hundred bands and half of the next.
    expect(note.findings[0].value).toBeGreaterThan(0.9);
    expect(note.findings[0].value).toBeLessThan(2.1);
    const care = check(made(0.1));
    expect(care.verdict).toBe('usable-with-care');
    expect(care.findings[0]).toMatchObject({ code: 'surface-made-up', severity: 'care' });
    expect(Math.abs((care.findings[0].value ?? 0) - 10)).toBeLessThan(1.1);
    expect(check(made(0.2)).verdict).toBe('recast');
  });

  it('asks for a new cast where so much is missing that the length of the foot cannot be told', () => {
    const cast = made(0.1);
    const label = MEASURE_LABELS['foot-length'];
    const context = checkContext(cast);
    const withLength = (length: Measurement) => checkSurfaceMadeUp({ ...context, measured: { ...context.measured, measurements: [length] } });
    const told = withLength({ id: 'foot-length', label, on: 'cast', value: 250, unit: 'mm', uncertainty: 5, onFilled: 0.5 });
    expect(told.findings[0].severity).toBe('care');
    const untold = withLength({ id: 'foot-length', label, on: 'cast', absent: 'Too much was missing.' });
    expect(untold.findings[0]).toMatchObject({ code: 'surface-made-up', severity: 'recast', limit: DEFAULT_RULES.check.madeUp.care });
    expect(untold.findings[0].text).toContain('Where the foot ends is not known');
    // Points that lie far apart leave it untold, too.
    const whole = checkContext(made(0.02));
    const { findings } = checkSurfaceMadeUp({ ...whole, measured: { ...whole.measured, measurements: [{ id: 'foot-length', label, on: 'cast', absent: 'Its points lie too far apart.' }] } });
    expect(findings[0].severity).toBe('note');
  });

  it('says in which regions, in mm²', () => {
    const { readings, findings } = checkSurfaceMadeUp(checkContext(made(0.1)));
    expect(readings.map((r) => r.id)).toEqual([
      'surface-made-up', 'missing-toes', 'missing-ball', 'missing-sole', 'missing-arch', 'missing-heel', 'missing-instep', 'missing-ankle', 'missing-sides',
    ]);
    // A tenth of a pipe of radius 40 and height 150, all of it behind the arch.
    const all = 0.1 * 2 * Math.PI * 40 * 150;
    expect(Math.abs((readings[5].value ?? 0) - all)).toBeLessThan(0.1 * all);
    expect(findings[0].text).toContain('mm² on the heel');
    expect(readings[1].value).toBe(0);
  });
});
