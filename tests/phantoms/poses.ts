/**
 * Stands posed phantoms up and prints how often orientation and side came out right.
 *
 *   npm run poses -- [--first 20000] [--feet 50] [--poses 4] [--triangles 15000]
 *
 * Every foot is scanned once and turned into as many random poses; sides alternate by seed. A pose is right where the
 * axes lie within 10° of the truth's and the declared side is accepted; the wrong side must be refused.
 */
import { parseArgs } from 'node:util';
import { boundaryLoops } from '@cast-to-last/geometry/mesh/topology';
import { invertRigid, transformMesh, compose } from '@cast-to-last/geometry/numerics/transform';
import { otherSide } from '@cast-to-last/foot/side';
import { CastError } from '@cast-to-last/pipeline/errors';
import type { AlignedCast, RepairedCast } from '@cast-to-last/pipeline/records';
import { alignCast } from '@cast-to-last/pipeline/stages/align';
import { wholeOptions } from '../support/whole-options.js';
import { makePhantom } from './make-phantom.js';
import { anyPose } from './scan/pose.js';
import { randomFrom } from './random.js';

const { values } = parseArgs({
  options: {
    first: { type: 'string', default: '20000' },
    feet: { type: 'string', default: '50' },
    poses: { type: 'string', default: '4' },
    triangles: { type: 'string', default: '15000' },
  },
});
const [first, feet, poses, triangles] = wholeOptions(values, 'first', 'feet', 'poses', 'triangles');

let tried = 0;
let upright = 0;
let accepted = 0;
let wrongSideRefused = 0;
for (let seed = first; seed < first + feet; seed++) {
  const phantom = makePhantom(seed, { triangles, denseTriangles: 20_000, posed: false, debris: false, holes: 0, missingSole: false, side: seed % 2 === 0 ? 'left' : 'right' });
  const loops = boundaryLoops(phantom.scan).sort((a, b) => b.length - a.length);
  for (let k = 0; k < poses; k++) {
    const pose = anyPose(randomFrom(seed).fork(`pose ${k}`));
    const cast: RepairedCast = {
      mesh: transformMesh(pose, phantom.scan),
      opening: phantom.made.top === 'capped' ? null : (loops[0] ?? null),
      filled: new Uint8Array(phantom.scan.positions.length / 3),
      repairs: {} as RepairedCast['repairs'],
      outerSheet: null, openCuts: [],
      warnings: [],
    };
    tried++;
    const aligned = attempt(cast, phantom.truth.side);
    if (aligned !== null) {
      accepted++;
      const away = compose(phantom.truth.transform, compose(invertRigid(pose), invertRigid(aligned.transform)));
      if (Math.min(away[0], away[5], away[10]) > Math.cos((10 * Math.PI) / 180)) upright++;
      else process.stderr.write(`seed ${seed}, pose ${k}: stands wrong\n`);
    } else {
      process.stderr.write(`seed ${seed}, pose ${k}: refused\n`);
    }
    if (attempt(cast, otherSide(phantom.truth.side)) === null) wrongSideRefused++;
  }
}
process.stdout.write(`${tried} poses of ${feet} feet: declared side accepted ${accepted}, standing right ${upright}, wrong side refused ${wrongSideRefused}\n`);

/** The aligned cast; null where it was refused. */
function attempt(cast: RepairedCast, side: 'left' | 'right'): AlignedCast | null {
  try {
    return alignCast(cast, side);
  } catch (error) {
    if (error instanceof CastError) return null;
    throw error;
  }
}
