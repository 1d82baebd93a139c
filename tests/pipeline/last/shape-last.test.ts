import { beforeAll, describe, expect, it } from 'vitest';
import { feltSurface } from '@cast-to-last/foot/felt-surface';
import { girthsOf, lastTapes } from '@cast-to-last/foot/last-girths';
import { easeGirths } from '@cast-to-last/pipeline/last/ease-girths';
import type { LastBody } from '@cast-to-last/pipeline/last/last-body';
import { shapeLast } from '@cast-to-last/pipeline/last/shape-last';
import { lastRules } from '@cast-to-last/pipeline/rules/last-rules';
import { castBody } from '../../support/cast-body.js';

const tapes = ({ mesh, filled, landmarks }: LastBody) => lastTapes(feltSurface(mesh, filled), landmarks);
const girths = (body: LastBody) => girthsOf(tapes(body));
const STATIONS = ['ball', 'waist', 'instep'] as const;

describe.each([112, 117])('the girths of a last of seed %i', (seed) => {
  let cast: LastBody;
  beforeAll(() => {
    cast = castBody(seed, { side: 'right' });
  });
  const shaped = (rules: object) => shapeLast(cast, lastRules.parse(rules), null);

  it('are the foot\'s own after a stance that moved them, where no change is asked', () => {
    const stance = { heelHeightMm: 28, toeSpringMm: 22 };
    const own = girths(cast);
    const last = shaped({ stance });
    const got = girths(last.body);
    for (const station of STATIONS) {
      expect(Math.abs((got[station] ?? NaN) - (own[station] ?? NaN)), station).toBeLessThan(0.1);
      const change = last.changes.find(({ id }) => id === `${station}-girth`);
      expect(change?.asked).toBe(change?.before);
      expect(Math.abs((change?.got ?? NaN) - (own[station] ?? NaN)), station).toBeLessThan(0.1);
    }
    const told = last.changes.find(({ id }) => id === 'ball-girth-of-stance');
    expect(Math.abs((told?.got ?? NaN) - (told?.before ?? NaN))).toBeGreaterThan(0.3);
  });

  it('count from the foot\'s own where one alone is asked for', () => {
    const own = girths(cast);
    const got = girths(shaped({ stance: { toeSpringMm: 22 }, ease: { instep: { mm: 3 } } }).body);
    for (const station of STATIONS) expect(Math.abs((got[station] ?? NaN) - (own[station] ?? NaN) - (station === 'instep' ? 3 : 0)), station).toBeLessThan(0.1);
  });

  it('are no matter where nothing could move them', () => {
    expect(shaped({}).body).toBe(cast);
    const toes = shaped({ toeBox: { level: true } });
    expect(toes.changes.map(({ id }) => id)).toEqual(['toe-allowance']);
  });

  it('stay what they have become, with a warning, where the foot\'s own cannot be brought back', () => {
    const narrow: LastBody = { ...cast, mesh: { ...cast.mesh, positions: cast.mesh.positions.map((c, i) => (i % 3 === 1 ? 0.8 * c : c)) } };
    const kept = easeGirths(narrow, lastRules.parse({}).ease, tapes(cast));
    expect(kept.body).toBe(narrow);
    expect(kept.warnings).toHaveLength(1);
    expect(kept.changes.map(({ asked }) => asked)).toEqual([null, null, null]);
  });

  it('that are asked for are had even where the others cannot be brought back', () => {
    const { footLength } = cast.landmarks;
    const squeezed = (x: number): number => 0.6 + 0.4 * Math.min(1, Math.max(0, (x / footLength - 0.5) / 0.12));
    const positions = cast.mesh.positions.map((c, i) => (i % 3 === 1 ? squeezed(cast.mesh.positions[i - 1]) * c : c));
    const narrow: LastBody = { ...cast, mesh: { ...cast.mesh, positions } };
    const own = girths(cast);
    const step = easeGirths(narrow, lastRules.parse({ ease: { ball: { mm: 3 } } }).ease, tapes(cast));
    expect(step.warnings).toHaveLength(1);
    expect(Math.abs((girths(step.body).ball ?? NaN) - (own.ball ?? NaN) - 3)).toBeLessThan(0.1);
    expect(step.changes.map(({ asked }) => asked === null)).toEqual([false, true, true]);
  });
});
