import { describe, expect, it } from 'vitest';
import type { Landmarks, Point } from '@cast-to-last/foot/landmarks';
import type { Side } from '@cast-to-last/foot/side';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { notePictures } from '@cast-to-last/pipeline/recast-note/pictures';
import type { NotePicture } from '@cast-to-last/sheet/note/note-content';
import { weighed } from '../../support/hand-made-check.js';
import type { Weighed } from '../../support/hand-made-check.js';
import { icosphere } from '../../support/meshes.js';

const DEG = Math.PI / 180;

/** An egg, 260 × 100 × 120 mm, standing on z = 0 with its rear at x = 0. */
function egg(): Mesh {
  const { positions, triangles } = icosphere(1, 4);
  return { positions: positions.map((c, i) => [130 * c + 130, 50 * c, 60 * c + 60][i % 3]), triangles };
}

const landmarks = (m: number): Landmarks => ({
  footLength: 260, pternion: [0, 0, 0], toeTip: [260, 0, 60], heelCentre: [42, 0, 0], ballCentre: [180, 0, 0], medialBall: [190, 45 * m, 20], lateralBall: [165, -45 * m, 20],
  instep: [130, 0, 120], waist: [155, 0, 115], crook: [80, 0, 80], heelCorner: [8, 0, 3],
});

function draw({ finding, reading }: Weighed, { side = 'right' as Side, heelPitch = 0, filled = new Uint8Array() } = {}): NotePicture {
  const mesh = egg();
  const made = filled.length === 0 ? new Uint8Array(mesh.positions.length / 3) : filled;
  return notePictures({ mesh, filled: made, landmarks: landmarks(side === 'right' ? 1 : -1), side, heelPitch })(finding, reading);
}

/** Angle of a line against upright on the paper, leaning right positive, degrees. */
const lean = ([line]: NotePicture['measured']): number => {
  const p = line.points;
  return Math.atan2(p[p.length - 2] - p[0], p[p.length - 1] - p[1]) / DEG;
};
/** Angle of a line's last piece against level, rising to the right positive, degrees. */
const rise = ([line]: NotePicture['measured']): number => {
  const p = line.points;
  return Math.atan2(p[p.length - 1] - p[p.length - 3], p[p.length - 2] - p[p.length - 4]) / DEG;
};

describe('the picture of a lean', () => {
  it.each([['right', 'outer', 0], ['left', 'inner', 0], ['right', 'outer', 14]] as const)(
    'from the side, of a %s foot from the %s side on a heel %i° up, shows both angles against the floor', (side, view, pitchDeg) => {
      const picture = draw(weighed('forward-lean', 'recast', 17, 3, 9, 'deg', [70, 0, 90]), { side, heelPitch: pitchDeg * DEG });
      expect(picture.title).toBe(`seen from the ${view} side`);
      expect(lean(picture.measured)).toBeCloseTo(17, 6);
      expect(lean(picture.wanted)).toBeCloseTo(3, 6);
      // The measured line runs through the finding's place, both begin at one point.
      expect([...picture.measured[0].points.subarray(0, 2)]).toEqual([...picture.wanted[0].points.subarray(0, 2)]);
      expect(picture.patches).toHaveLength(1);
    },
  );

  it.each([['right', -1], ['left', 1]] as const)('from behind, of a %s foot, goes to the inner side where it leaned inward', (side, inner) => {
    const picture = draw(weighed('rear-view', 'recast', 9, -2, 7, 'deg', [10, 0, 60]), { side });
    expect(picture.title).toBe('seen from behind');
    expect(lean(picture.measured)).toBeCloseTo(9 * inner, 6);
    expect(lean(picture.wanted)).toBeCloseTo(-2 * inner, 6);
  });

  it('is drawn through the middle of the leg where the finding has no place', () => {
    const { measured } = draw(weighed('forward-lean', 'recast', -8, 3, 9));
    expect(lean(measured)).toBeCloseTo(-8, 6);
    expect(measured[0].points[0]).toBeGreaterThan(60);
    expect(measured[0].points[0]).toBeLessThan(200);
  });
});

describe('the picture of the sole', () => {
  it('shows the bend from the crease on, as the foot stood on the bed', () => {
    const picture = draw(weighed('sole-bend', 'recast', 8, 20, 5, 'deg', [175, 0, 0]), { heelPitch: 12 * DEG });
    expect(rise(picture.measured)).toBeCloseTo(8 - 12, 6);
    expect(rise(picture.wanted)).toBeCloseTo(20 - 12, 6);
    const [, , right, up] = picture.measured[0].points;
    expect(Math.hypot(right, up)).toBeCloseTo(175, 6);
    expect(Math.atan2(-up, right) / DEG).toBeCloseTo(12, 6);
  });

  it('shows how far the heel was up', () => {
    const picture = draw(weighed('heel-on-plate', 'recast', 6, 0, 5));
    // Both run back from the arch, to the left on the paper.
    expect(rise(picture.measured)).toBeCloseTo(180 - 6, 6);
    expect(Math.abs(rise(picture.wanted))).toBeCloseTo(180, 6);
  });

  it('shows the hinge as far from the ball as it was measured', () => {
    for (const value of [-18, 15]) {
      const picture = draw(weighed('ball-on-hinge', 'recast', value, 0, 12, 'mm'));
      expect(picture.title).toBe('the sole, seen from below');
      expect(picture.measured[0].points[0] - picture.wanted[0].points[0]).toBeCloseTo(value, 9);
      expect(picture.places).toEqual([[190, -45]]);
    }
  });

  it.each([['right', 1], ['left', -1]] as const)('shows from the front which edge of the forefoot of a %s foot was up', (side, inner) => {
    const { measured, wanted, title } = draw(weighed('forefoot-twist', 'recast', 7, 0, 6), { side });
    expect(title).toBe('seen from the front');
    const [x0, y0, x1, y1] = measured[0].points;
    // From the front the inner edge of a right foot lies to the right on the paper.
    expect(Math.sign(y1 - y0)).toBe(Math.sign(x1 - x0) * inner);
    expect(Math.abs(Math.atan((y1 - y0) / (x1 - x0))) / DEG).toBeCloseTo(7, 6);
    expect(wanted[0].points[1]).toBeCloseTo(wanted[0].points[3], 9);
  });
});

describe('the picture of a length', () => {
  it('shows the toe box as broad as it is, and as broad as it should be', () => {
    const { measured, wanted } = draw(weighed('toe-box', 'recast', 0.6, null, 0.72, ''));
    const ball = Math.hypot(25, 90);
    const breadth = (lines: NotePicture['measured']): number => Math.abs(lines[1].points[1] - lines[0].points[1]);
    expect(breadth(measured)).toBeCloseTo(0.6 * ball, 6);
    expect(breadth(wanted)).toBeCloseTo(0.72 * ball, 6);
  });

  it('shows how far the cast reaches up and how far it should', () => {
    const { measured, wanted } = draw(weighed('stops-short', 'recast', 80, 97, 97, 'mm'));
    expect(measured[0].points[1]).toBeCloseTo(80, 9);
    expect(wanted[0].points[1]).toBeCloseTo(97, 9);
  });

  it('shows where the toes may end behind the end of the bandage', () => {
    const { measured, wanted } = draw(weighed('beyond-toes', 'recast', 40, 0, 30, 'mm'));
    expect(measured[0].points[0] - wanted[0].points[0]).toBeCloseTo(40, 9);
  });

  it('shows the edges of the cut as far apart as they are', () => {
    const { measured, places } = draw(weighed('closing-waist', 'recast', 7, 0, 6, 'mm', [150, 4, 118]));
    expect(Math.abs(measured[0].points[1] - measured[1].points[1])).toBeCloseTo(7, 9);
    expect(places).toEqual([[150, 4]]);
  });
});

describe('the picture of a place', () => {
  const at: readonly (readonly [string, Point, Side])[] = [
    ['the sole, seen from below', [130, 0, 0], 'right'], ['seen from above', [130, 0, 120], 'right'], ['seen from behind', [0, 0, 60], 'right'], ['seen from the front', [260, 0, 60], 'right'],
    ['seen from the inner side', [130, 50, 60], 'right'], ['seen from the outer side', [130, 50, 60], 'left'],
  ];
  it.each(at)('is %s for %j of a %s foot, with a ring there', (title, place, side) => {
    const picture = draw(weighed('buckled', 'recast', 3, 0, 2, 'mm', place), { side });
    expect(picture.title).toBe(title);
    expect(picture.places).toHaveLength(1);
    const [right, up] = picture.places[0];
    const seen = /sole|above|behind|front/.test(title) ? { 'the sole, seen from below': [130, 0], 'seen from above': [130, 0], 'seen from behind': [0, 60], 'seen from the front': [0, 60] }[title] : [-130, 60];
    expect([right, up].map((c) => Math.round(c) + 0)).toEqual(seen);
  });

  it('is the cast alone where a finding has neither figures nor place', () => {
    const picture = draw(weighed('warped', 'recast', null, null, null));
    expect(picture.places).toEqual([]);
    expect(picture.measured).toEqual([]);
    expect(picture.outline.length).toBeGreaterThan(0);
  });
});

describe('the picture of missing surface', () => {
  it('shows what was made up, on the view that shows most of it', () => {
    const { positions } = egg();
    const filled = Uint8Array.from({ length: positions.length / 3 }, (_, v) => (Math.hypot(positions[3 * v] - 130, positions[3 * v + 1]) < 30 && positions[3 * v + 2] < 60 ? 1 : 0));
    const picture = draw(weighed('surface-made-up', 'recast', 14, 0, 12, '%'), { filled });
    expect(picture.title).toBe('the sole, seen from below');
    const rights = picture.patches.flatMap(({ points }) => Array.from(points).filter((_, i) => i % 2 === 0));
    expect(Math.min(...rights)).toBeGreaterThan(90);
    expect(Math.max(...rights)).toBeLessThan(170);
    expect(Math.max(...rights) - Math.min(...rights)).toBeGreaterThan(40);
  });
});
