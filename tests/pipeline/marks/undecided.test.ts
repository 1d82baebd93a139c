import { beforeAll, describe, expect, it } from 'vitest';
import { isTaken } from '@cast-to-last/foot/measures';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { AlignedCast, Mark, MeasuredCast } from '@cast-to-last/pipeline/records';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import { findMarks } from '@cast-to-last/pipeline/stages/find-marks';
import { measureCast } from '@cast-to-last/pipeline/stages/measure';
import { smoothMarks } from '@cast-to-last/pipeline/stages/smooth-marks';
import { makePhantom } from '../../phantoms/make-phantom.ts';
import { castOf, fromPoint, withMark } from '../../support/marked.ts';

const RULES = parseRules({ name: 'all deep marks ask', version: '1', marks: { depthThresholdMm: 0.9 } });
const BUMP_MM = 2.4;

let sound: AlignedCast;
let bumped: AlignedCast;
let asked: readonly Mark[];

function run(cast: AlignedCast, decisions: Decisions = NO_DECISIONS): MeasuredCast & { readonly marks: readonly Mark[] } {
  const inspected = findMarks(cast, RULES, decisions);
  return { ...measureCast(cast, smoothMarks(cast, inspected, RULES.smoothing, decisions), inspected), marks: inspected.marks };
}

const uncertaintyOf = ({ measurements }: MeasuredCast, id: string): number => {
  const found = measurements.find((m) => m.id === id);
  return found !== undefined && isTaken(found) ? found.uncertainty : NaN;
};

const valueOf = ({ measurements }: MeasuredCast, id: string): number => {
  const found = measurements.find((m) => m.id === id);
  return found !== undefined && isTaken(found) ? found.value : NaN;
};

beforeAll(() => {
  const { scan, truth } = makePhantom(91, { family: 'bones', side: 'right', triangles: 30_000, denseTriangles: 30_000, posed: false, dents: 0, bumps: 0, ridges: 0, seam: false, holes: 0, debris: false, missingSole: false, top: 'capped', noise: 0.02, weave: 0.02 });
  const { medialBall: [x, y, z] } = truth.landmarks;
  sound = { ...castOf(scan), landmarks: truth.landmarks };
  bumped = { ...castOf(withMark(scan, fromPoint([x - 9, y, z]), BUMP_MM, 22)), landmarks: truth.landmarks };
  asked = findMarks(bumped, RULES, NO_DECISIONS).marks.filter(({ decision, centre }) => decision === 'ask' && Math.hypot(centre[0] - x + 9, centre[1] - y) < 10);
});

describe('a bump at the inside of the ball that waits for the maker', () => {
  it('is found, and asks', () => {
    expect(asked.map(({ kind }) => kind)).toEqual(['bump']);
  });

  it('adds to the uncertainty of a measure what smoothing it would change', () => {
    const waiting = run(bumped);
    const smoothed = run(bumped, { ...NO_DECISIONS, marks: waiting.marks.filter(({ decision }) => decision === 'ask').map(({ id }) => ({ id, decision: 'smooth' })) });
    for (const id of ['ball-width', 'ball-girth', 'medial-ball-length']) {
      const change = Math.abs(valueOf(waiting, id) - valueOf(smoothed, id));
      expect(change, id).toBeGreaterThan(0.5);
      const added = Math.sqrt(uncertaintyOf(waiting, id) ** 2 - uncertaintyOf(smoothed, id) ** 2);
      expect(Math.abs(added - change), id).toBeLessThan(0.25 + 0.15 * change);
    }
    for (const id of ['foot-length', 'heel-width', 'ankle-girth']) expect(uncertaintyOf(waiting, id), id).toBeLessThan(uncertaintyOf(smoothed, id) + 0.1);
  });

  it('leaves the inside of the ball for the hinge where it is without the bump', () => {
    const waiting = run(bumped);
    const plain = run(sound);
    expect(Math.abs(waiting.landmarks.medialBall[0] - plain.landmarks.medialBall[0])).toBeGreaterThan(3);
    expect(Math.abs((waiting.medialBallSmoothed?.[0] ?? NaN) - plain.landmarks.medialBall[0])).toBeLessThan(1.5);
  });

  it('counts no more once the maker keeps it', () => {
    const kept = run(bumped, { ...NO_DECISIONS, marks: asked.map(({ id }) => ({ id, decision: 'keep' })) });
    expect(kept.marks.filter(({ decision }) => decision === 'ask')).toEqual([]);
    expect(kept.medialBallSmoothed).toBeUndefined();
    expect(uncertaintyOf(kept, 'ball-width')).toBeLessThan(0.6);
  });
});
