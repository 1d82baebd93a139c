import { describe, expect, it } from 'vitest';
import { gradeGrowth } from '@cast-to-last/foot/grade';
import { capLoop } from '@cast-to-last/geometry/repair/cap-loop';
import { withSolids } from '@cast-to-last/geometry/solids/solid';
import { GRADE_BODY, gradeBase, gradeBody, targetsOf } from '@cast-to-last/pipeline/last/grade/grade-body';
import { CastError } from '@cast-to-last/pipeline/errors';
import { measuredBody } from '../../../support/measured-body.js';

const bodies = await Promise.all([[41, { oddities: ['wide'] }], [52, { oddities: ['bunion'], side: 'left' }]].map(async ([seed, options]) => ({ seed, body: await measuredBody(seed as number, options as object) })));

describe.each(bodies)('a graded last (seed $seed)', ({ body }) => {
  const base = gradeBase(body);

  it.each([
    ['uk', 1, 0], ['uk', -2, 1], ['paris-point', 3, -1], ['mondopoint', 0.5, 0], ['us', 0, 2],
  ] as const)('%s %d sizes, %d widths: as long as asked, girths within 0.3 mm', (system, sizes, widths) => {
    const growth = gradeGrowth({ system, sizes, widths });
    const { body: graded, changes } = gradeBody(body, base, targetsOf(base, growth));
    expect(changes.map((c) => c.id)).toEqual(['grade-length', 'grade-ball', 'grade-waist', 'grade-instep']);
    for (const { asked, got, before, id } of changes) {
      expect(Math.abs(got - asked), id).toBeLessThan(0.3);
      expect(asked - before, id).toBeCloseTo(id === 'grade-length' ? growth.length : growth.girth, 6);
    }
    expect(Math.min(...graded.mesh.positions.filter((_, i) => i % 3 === 2))).toBeCloseTo(Math.min(...body.mesh.positions.filter((_, i) => i % 3 === 2)), 1);
  });

  it('stays a solid', async () => {
    const { body: graded } = gradeBody(body, base, targetsOf(base, gradeGrowth({ system: 'uk', sizes: 3, widths: 2 })));
    const closed = graded.opening === null ? graded.mesh : capLoop(graded.mesh, graded.opening);
    expect(await withSolids((scope) => scope.ofMesh(closed).genus)).toBe(0);
  });

  it('comes back to itself by the steps back', () => {
    const there = gradeBody(body, base, targetsOf(base, gradeGrowth({ system: 'uk', sizes: 2, widths: 1 }))).body;
    const back = gradeBody(there, gradeBase(there), { length: base.length, ball: base.girths.ball as number, waist: base.girths.waist as number, instep: base.girths.instep as number, heelShare: 1 / (1 + 12.7 / (base.girths.ball as number)) }).body;
    let most = 0;
    for (let i = 0; i < body.mesh.positions.length; i++) most = Math.max(most, Math.abs(back.mesh.positions[i] - body.mesh.positions[i]));
    expect(most).toBeLessThan(0.25);
  });

  it('meets tape targets, and lets a girth that is not named grow as the ball does', () => {
    const ball = (base.girths.ball as number) + 9;
    const { changes } = gradeBody(body, base, { length: base.length + 4, ball, instep: (base.girths.instep as number) + 2 });
    const of = Object.fromEntries(changes.map((c) => [c.id, c]));
    expect(of['grade-waist'].asked).toBeCloseTo((of['grade-waist'].before * ball) / (base.girths.ball as number), 9);
    for (const { asked, got } of changes) expect(Math.abs(asked - got)).toBeLessThan(0.3);
  });

  it('refuses a target that is another last', () => {
    expect(() => gradeBody(body, base, { length: base.length * 1.6, ball: base.girths.ball as number })).toThrow(CastError);
    expect(GRADE_BODY.most).toBeLessThan(1.6);
  });
});
