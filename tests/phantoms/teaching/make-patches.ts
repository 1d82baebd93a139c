/**
 * Makes what the network that looks for marks is taught on: patches of generated casts, with marks planted on them.
 *
 *   npm run patches -- --file patches.i16 [--first 1] [--count 280] [--triangles 100000] [--plantings 4] [--patches 150]
 *
 * A patch holds four pictures of 24 × 24 cells, as 16-bit whole numbers in the machine's order: the height, −32768 where
 * nothing is covered, and what is drawn in, both in 1/500 mm, the cosine of the turn in 1/10000, and the height of the planted marks in
 * 1/5000 mm. Casts are of the seeds for tuning; packages/pipeline/network/teach.py learns from the file.
 */
import { closeSync, openSync, writeSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { ExponentialMap } from '@cast-to-last/geometry/distance/exponential-map';
import { writeStl } from '@cast-to-last/geometry/formats/stl';
import { vertexNormals } from '@cast-to-last/geometry/mesh/quantities';
import { inspectionSurface, type InspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { REACH } from '@cast-to-last/pipeline/marks/learned/learned-heights';
import { LEAST_WEIGHT, eachCell, patchGrid } from '@cast-to-last/pipeline/marks/learned/patch-grid';
import { PICTURE } from '@cast-to-last/pipeline/marks/learned/picture';
import { readAndRepair } from '@cast-to-last/pipeline/pipeline';
import { alignCast } from '@cast-to-last/pipeline/stages/align';
import { shellCast } from '@cast-to-last/pipeline/stages/shell';
import { wholeOptions } from '../../support/whole-options.js';
import { makePhantom, UNITS_PER_MM } from '../make-phantom.js';
import { randomFrom, type Random } from '../random.js';
import { plantHeights, type TaughtSurface } from './plant-heights.js';

const { values } = parseArgs({
  options: {
    file: { type: 'string', default: 'patches.i16' },
    first: { type: 'string', default: '1' },
    count: { type: 'string', default: '280' },
    triangles: { type: 'string', default: '100000' },
    plantings: { type: 'string', default: '4' },
    patches: { type: 'string', default: '150' },
  },
});
const [first, count, triangles, plantings, patches] = wholeOptions(values, 'first', 'count', 'triangles', 'plantings', 'patches');

const CELLS = PICTURE.size ** 2;
const NOTHING = -32768;
const whole = (x: number): number => Math.max(-32767, Math.min(32767, Math.round(x)));

/** A cast that no finger touched, as the program looks at it. Ridges and the seam stay: they are for others to find. */
async function untouched(seed: number): Promise<InspectionSurface> {
  const { scan, unit, truth } = makePhantom(seed, { triangles, dents: 0, bumps: 0, ...(seed % 5 === 0 ? { ridges: 0, seam: false } : {}) });
  const factor = UNITS_PER_MM[unit];
  const bytes = writeStl({ positions: scan.positions.map((c) => c * factor), triangles: scan.triangles });
  const { repaired } = await readAndRepair({ bytes, unit: 'auto', kind: 'positive' }, async (_name, _key, stage) => stage());
  const cast = alignCast(await shellCast(repaired, 'positive', null), truth.side, { kind: 'positive' });
  return inspectionSurface(cast.mesh, cast.filled, cast.opening === null, cast.landmarks.footLength);
}

/** Where patches are taken: two at each mark, near its middle, the others anywhere. */
function middlesOf({ middles }: TaughtSurface, { unsure }: InspectionSurface, map: ExponentialMap, random: Random): number[] {
  const chosen = [...middles, ...middles].map((middle) => random.pick([...map.around(middle, 7).vertices]));
  while (chosen.length < patches) {
    const v = random.whole(0, unsure.length - 1);
    if (unsure[v] === 0) chosen.push(v);
  }
  return chosen;
}

const file = openSync(values.file, 'w');
for (let seed = first; seed < first + count; seed++) {
  const surface = await untouched(seed);
  const random = randomFrom(seed, 'teaching');
  for (let planting = 0; planting < plantings; planting++) {
    const taught = plantHeights(surface, surface.mesh.positions, 12, random);
    const normals = vertexNormals({ positions: taught.positions, triangles: surface.mesh.triangles });
    const map = new ExponentialMap({ positions: taught.positions, triangles: surface.mesh.triangles }, surface.neighbours, normals);
    for (const middle of middlesOf(taught, surface, map, random)) {
      const { vertices, flat } = map.around(middle, REACH);
      const grid = patchGrid(taught.positions, normals, vertices, flat);
      const planted = new Float64Array(CELLS);
      const weights = new Float64Array(CELLS);
      vertices.forEach((v, i) => eachCell(flat[2 * i], flat[2 * i + 1], (cell, weight) => {
        planted[cell] += weight * taught.heights[v];
        weights[cell] += weight;
      }));
      const patch = new Int16Array(4 * CELLS);
      for (let cell = 0; cell < CELLS; cell++) {
        if (weights[cell] < LEAST_WEIGHT) {
          patch[cell] = NOTHING;
          continue;
        }
        patch[cell] = whole(500 * grid.height[cell]);
        patch[CELLS + cell] = whole(500 * grid.drawnIn[cell]);
        patch[2 * CELLS + cell] = whole(10000 * (1 + grid.turned[cell]));
        patch[3 * CELLS + cell] = whole((5000 * planted[cell]) / weights[cell]);
      }
      writeSync(file, Buffer.from(patch.buffer));
    }
  }
  process.stderr.write(`${seed}\n`);
}
closeSync(file);
