import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { MeshFormatError } from '@cast-to-last/geometry/formats/format-error';
import { readMesh } from '@cast-to-last/geometry/formats/read-mesh';
import { parseDecisions } from '@cast-to-last/pipeline/decisions';
import { CastError } from '@cast-to-last/pipeline/errors';
import { parseOrder } from '@cast-to-last/pipeline/order';
import { parseResult } from '@cast-to-last/pipeline/pair/parse-result';
import { checkScan } from '@cast-to-last/pipeline/pipeline';
import { DEFAULT_RULES, parseRules } from '@cast-to-last/pipeline/rules/rules';
import { parseScannerRecord } from '@cast-to-last/pipeline/scanner/scanner-record';
import { ascii, asciiPly, asciiStl, binaryPly, binaryStl, obj } from '../support/mesh-files.js';
import { icosphere } from '../support/meshes.js';
import { mutate } from '../support/mutate.js';
import { woundJson } from '../support/wound-json.js';
import type { Rng } from '../support/rng.js';
import { makePhantom } from '../phantoms/make-phantom.js';
import { REQUEST_TARGETS } from './request-targets.js';
import { STORED_TARGETS } from './stored-targets.js';
import { mayThrow } from './target.js';
import type { Target } from './target.js';

const sphere = icosphere(50, 2);
const files = [binaryStl(sphere), asciiStl(sphere), asciiPly(sphere), binaryPly(sphere), binaryPly(sphere, { little: false, extras: true }), obj(sphere)];
const text = new TextDecoder();

const meshFiles: Target = {
  name: 'mesh-file', limitMs: 2000,
  make: (random) => mutate(files[random.below(files.length)], files[random.below(files.length)], random),
  take: (bytes) => mayThrow([MeshFormatError], () => readMesh(bytes)),
};

const jsonTarget = (name: string, sound: unknown, parse: (json: unknown) => unknown): Target => {
  const bytes = ascii(JSON.stringify(sound));
  return {
    name, limitMs: 1000,
    make: (random) => (random.next() < 0.5 ? mutate(bytes, bytes, random) : ascii(JSON.stringify(woundJson(sound, random)))),
    take: (wounded) => mayThrow([CastError], () => {
      let json: unknown;
      try {
        json = JSON.parse(text.decode(wounded));
      } catch {
        return;
      }
      parse(json);
    }),
  };
};

const soundOrder = {
  orderNumber: '4107', sides: ['left'], date: '2026-03-17', discipline: 'other', load: 'seated', remarks: 'felt insole',
  footbed: { heelHeightMm: 42, hingeHeightMm: 0, toeHeightMm: 12, heelToHingeMm: 175, hingeToToeMm: 85 },
  plan: { forwardLeanDeg: 6 }, plaster: { layers: 6, wallMm: 3.5 }, drying: { how: 'in the air', hours: 48 }, tape: { left: { 'foot-length': 262 } },
};
const soundDecisions = { marks: [{ id: 'dent-3', decision: 'smooth' }, { centre: [142, -31.5, 22], decision: 'keep' }], patches: [{ centre: [60, 12, 71], radiusMm: 9, decision: 'smooth' }] };

let casts: readonly Mesh[] | null = null;
const someCasts = (): readonly Mesh[] => (casts ??= [301, 302, 303, 304].map((seed) => makePhantom(seed, { triangles: 4000, denseTriangles: 4000, unit: 'mm' }).scan));

/** A cast with its surface wounded: pieces gone, doubled or turned inside out, points far off, in one place or not numbers. */
function woundCast(mesh: Mesh, random: Rng): Mesh {
  const positions = mesh.positions.slice();
  let triangles = [...mesh.triangles];
  for (let wounds = 1 + random.below(5); wounds > 0; wounds--) {
    const from = 3 * random.below(triangles.length / 3);
    const some = 3 * (1 + random.below(600));
    const v = random.below(positions.length / 3);
    switch (random.below(9)) {
      case 0: triangles.splice(from, some); break;
      case 1: triangles.push(...triangles.slice(from, from + some)); break;
      case 2: for (let t = from; t + 2 < Math.min(from + some, triangles.length); t += 3) [triangles[t], triangles[t + 1]] = [triangles[t + 1], triangles[t]]; break;
      case 3: positions[3 * v + random.below(3)] = [NaN, Infinity, 1e30, -1e9, 0][random.below(5)]; break;
      case 4: for (let t = from; t < Math.min(from + some, triangles.length); t++) triangles[t] = triangles[from]; break;
      case 5: for (let w = 0; w < 40; w++) positions[3 * random.below(positions.length / 3) + random.below(3)] += random.range(-30, 30); break;
      case 6: { const [axis, scale] = [random.below(3), random.range(0.02, 4)]; for (let i = axis; i < positions.length; i += 3) positions[i] *= scale; break; }
      case 7: { const axis = random.below(3); const cut = positions[3 * v + axis]; triangles = triangles.filter((_, c) => positions[3 * triangles[c - (c % 3)] + axis] <= cut); break; }
      default: for (let i = 0; i < positions.length; i++) positions[i] = Math.round(positions[i] / 5) * 5;
    }
    if (triangles.length < 30) break;
  }
  return { positions, triangles: Uint32Array.from(triangles.slice(0, triangles.length - (triangles.length % 3))) };
}

const wholeCast: Target = {
  name: 'cast', limitMs: 60_000,
  make: (random) => {
    const all = someCasts();
    return binaryStl(woundCast(all[random.below(all.length)], random));
  },
  take: (bytes) => mayThrow([CastError], () => checkScan({ bytes, fileName: 'cast.stl', side: 'left', kind: 'positive', unit: 'auto', sideOverride: true }, DEFAULT_RULES, { marks: [], patches: [] }, async (_name, _key, stage) => stage())),
};

export const TARGETS: readonly Target[] = [
  meshFiles,
  jsonTarget('rules', DEFAULT_RULES, parseRules),
  jsonTarget('order', soundOrder, parseOrder),
  jsonTarget('decisions', soundDecisions, parseDecisions),
  jsonTarget('scanner-record', { schema: 1, scanner: 'bench', checks: [] }, parseScannerRecord),
  jsonTarget('report', { schema: 1, scan: { file: 'a.stl', sha256: '0', kind: 'positive', side: 'left' }, measurements: [], castCheck: { verdict: 'usable', findings: [] } }, (json) => parseResult(json, 'report.json')),
  wholeCast,
  ...STORED_TARGETS,
  ...REQUEST_TARGETS,
];
