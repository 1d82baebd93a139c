import { describe, expect, it } from 'vitest';
import type { AlignedCast } from '@cast-to-last/pipeline/records';
import { CHECK, checkCast } from '@cast-to-last/pipeline/stages/check-cast';
import { boundaryLoops } from '@cast-to-last/geometry/topology';
import { castOf } from '../support/marked.ts';
import { openCylinder } from '../support/meshes.ts';

/** A pipe that stands on z = 0 and is open at `height` (its lower end stands for the sole). */
const standing = (height: number, footLength = 260): AlignedCast => {
  const mesh = openCylinder(40, height, 48, 100);
  const opening = boundaryLoops(mesh).find((loop) => mesh.positions[3 * loop[0] + 2] === height) ?? null;
  return { ...castOf(mesh, { footLength }), opening };
};

/** The same with the share of its surface from the bottom made up. */
const made = (share: number): AlignedCast => {
  const cast = standing(150);
  return { ...cast, filled: Uint8Array.from({ length: cast.mesh.positions.length / 3 }, (_, v) => +(cast.mesh.positions[3 * v + 2] < share * 150)) };
};

const codes = (cast: AlignedCast): string[] => checkCast(cast).findings.map((f) => f.code);

describe('check of a cast', () => {
  it('finds nothing on one that reaches 25 mm above the ankle bones (0.27 of the length: ANSUR II)', () => {
    expect(checkCast(standing(150))).toEqual({ verdict: 'usable', findings: [] });
  });

  it('says where one stops short, with the height it has and the height it needs', () => {
    const needed = 0.27 * 260 + 25;
    expect(codes(standing(needed + 0.1))).toEqual([]);
    const { verdict, findings } = checkCast(standing(needed - 0.1));
    expect(verdict).toBe('usable-with-care');
    expect(findings[0]).toMatchObject({ code: 'stops-short', severity: 'care', unit: 'mm' });
    expect(findings[0].value).toBeCloseTo(needed - 0.1, 9);
    expect(findings[0].limit).toBeCloseTo(needed, 9);
    // A longer foot has higher ankles.
    expect(codes(standing(needed + 0.1, 300))).toEqual(['stops-short']);
  });

  it('notes a closed top, and counts its height as what it reaches', () => {
    const capped = { ...standing(150), opening: null };
    expect(codes(capped)).toEqual(['top-closed']);
    expect(checkCast(capped).verdict).toBe('usable');
    expect(codes({ ...standing(60), opening: null })).toEqual(['stops-short', 'top-closed']);
  });

  it('says how much of the surface repair made up: nothing under 0.3 %, a note up to 3 %, care above', () => {
    expect(codes(made(0))).toEqual([]);
    const note = checkCast(made(0.02));
    expect(note.verdict).toBe('usable');
    expect(note.findings[0]).toMatchObject({ code: 'surface-made-up', severity: 'note', unit: '%', limit: 100 * CHECK.filledCare });
    // Made up are the triangles with two corners below 2 %: one row of a hundred bands and half of the next.
    expect(note.findings[0].value).toBeGreaterThan(0.9);
    expect(note.findings[0].value).toBeLessThan(2.1);
    const care = checkCast(made(0.2));
    expect(care.verdict).toBe('usable-with-care');
    expect(care.findings[0]).toMatchObject({ code: 'surface-made-up', severity: 'care' });
    expect(Math.abs((care.findings[0].value ?? 0) - 20)).toBeLessThan(1.1);
  });
});
