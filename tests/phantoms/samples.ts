import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { makePhantom, UNITS_PER_MM, type Phantom } from './make-phantom.js';
import type { PhantomOptions } from './phantom-options.js';

interface Sample {
  /** Order number and side. */
  readonly name: string;
  readonly for: string;
  readonly seed: number;
  readonly options: PhantomOptions;
}

/** The sample casts of an invented workshop for fencing shoes and mountain-hut clogs. */
export const SAMPLES: readonly Sample[] = [
  { name: '2041-left', for: 'fencing shoe', seed: 20411, options: { footSeed: 2041, side: 'left', family: 'bones', oddities: [], top: 'ragged', unit: 'mm', debris: true, holes: 3, missingSole: false, dents: 6, bumps: 2, ridges: 2, seam: true, noise: 0.03 } },
  { name: '2041-right', for: 'fencing shoe', seed: 20412, options: { footSeed: 2041, side: 'right', family: 'bones', oddities: [], top: 'cut', unit: 'mm', debris: false, holes: 2, missingSole: false, dents: 5, bumps: 1, ridges: 3, seam: true, noise: 0.03 } },
  { name: '2042-right', for: 'hut clog', seed: 20421, options: { footSeed: 2042, side: 'right', family: 'blunt', oddities: [], top: 'ragged', unit: 'm', debris: true, holes: 1, missingSole: false, dents: 7, bumps: 1, ridges: 3, seam: true, noise: 0.05 } },
  { name: '2043-left', for: 'hut clog', seed: 20431, options: { footSeed: 2043, side: 'left', family: 'sections', oddities: ['high-arch'], top: 'cut', unit: 'mm', debris: false, holes: 1, missingSole: false, dents: 4, bumps: 3, ridges: 2, seam: true, noise: 0.03 } },
  { name: '2043-right', for: 'hut clog', seed: 20432, options: { footSeed: 2043, side: 'right', family: 'sections', oddities: ['high-arch'], top: 'cut', unit: 'mm', debris: false, holes: 0, missingSole: true, dents: 5, bumps: 2, ridges: 1, seam: false, noise: 0.03 } },
  { name: '2044-left', for: 'fencing shoe', seed: 20441, options: { footSeed: 2044, side: 'left', family: 'bones', oddities: ['bunion'], top: 'capped', unit: 'mm', debris: false, holes: 0, missingSole: false, dents: 5, bumps: 2, ridges: 2, seam: true, noise: 0.04 } },
];

const TRIANGLES = 17_500;

const rounded = (v: ArrayLike<number>, digits: number): number[] => Array.from(v, (c) => Math.round(c * 10 ** digits) / 10 ** digits + 0);

/** The files of one sample: the scan as binary STL in its own unit, and what is known of it exactly as JSON. */
export function sampleFiles(sample: Sample): { readonly stl: Uint8Array; readonly truth: string } {
  const phantom = makePhantom(sample.seed, { triangles: TRIANGLES, rise: 62, markDepth: [0.8, 4], markWidth: [10, 28], ...sample.options });
  const factor = UNITS_PER_MM[phantom.unit];
  const mesh: Mesh = { positions: phantom.scan.positions.map((c) => c * factor), triangles: phantom.scan.triangles };
  return { stl: writeStl(mesh), truth: `${JSON.stringify(truthOf(sample, phantom), null, 2)}\n` };
}

function truthOf(sample: Sample, { truth, unit, made, scan }: Phantom) {
  return {
    order: sample.name.split('-')[0],
    for: sample.for,
    side: truth.side,
    unit,
    triangles: scan.triangles.length / 3,
    made: { seed: sample.seed, ...made, noise: rounded([made.noise], 4)[0], weave: rounded([made.weave], 4)[0] },
    transform: rounded(truth.transform, 9),
    landmarks: Object.fromEntries(Object.entries(truth.landmarks).map(([key, p]) => [key, typeof p === 'number' ? rounded([p], 3)[0] : p && rounded(p, 3)])),
    measures: Object.fromEntries(Object.entries(truth.measures).map(([id, value]) => [id, rounded([value as number], 3)[0]])),
    marks: truth.marks.map((m) => ({
      kind: m.kind,
      profile: m.profile,
      region: m.region,
      centre: rounded(m.centre, 3),
      depth: rounded([m.depth], 3)[0],
      width: rounded([m.width], 3)[0],
      length: rounded([m.length], 3)[0],
      ...(m.path ? { path: rounded(m.path.filter((_, i) => Math.floor(i / 3) % 5 === 0), 2) } : {}),
    })),
  };
}
