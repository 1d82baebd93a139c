import { BufferAttribute, BufferGeometry, Matrix4, Mesh } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { ask, askBytes } from '../../server/ask.js';
import type { ShownBody } from '../geometry/calls.js';
import { openGeometryThread } from '../geometry/client.js';

export type ResultBody = 'last' | 'cleaned';
export type TwoBodies = readonly [BufferGeometry, BufferGeometry];

interface Result {
  readonly id: string;
  readonly files: ReadonlySet<string>;
  /** Scan coordinates to the foot frame of this result. */
  readonly fromScan: Matrix4;
}

async function readResult(id: string, signal: AbortSignal): Promise<Result> {
  const [revision, report] = await Promise.all([
    ask<{ files: readonly { name: string }[] }>('GET', `/revisions/${id}`, { signal }),
    ask<{ transform: readonly number[] }>('GET', `/revisions/${id}/files/report.json`, { signal }),
  ]);
  const fromScan = new Matrix4();
  fromScan.set(...(report.body.transform as Parameters<Matrix4['set']>));
  return { id, files: new Set(revision.body.files.map(({ name }) => name)), fromScan };
}

/**
 * Two results of one scan in the frame of the second: the scan joins the frames. Read from the small files for looking at,
 * unpacked in a thread; results of earlier versions have none, then the file for making is read. Throws ServerProblem.
 *
 * @param early told the coarse level as soon as it is there
 */
export async function readBeforeAfter(beforeId: string, afterId: string, body: ResultBody, signal: AbortSignal, early: (bodies: TwoBodies) => void): Promise<TwoBodies> {
  const thread = openGeometryThread();
  try {
    const [before, after] = await Promise.all([beforeId, afterId].map((id) => readResult(id, signal)));
    const read = async ({ id, files }: Result, file: string): Promise<BufferGeometry | null> => {
      if (!files.has(file)) return null;
      const { bytes } = await askBytes(`/revisions/${id}/files/${file}`, { signal });
      const found = (await thread.ask('unpack', { bytes, side: '', keep: false }, [bytes])).find(({ name }) => name === body);
      return found === undefined ? null : geometryOf(found);
    };
    const inOneFrame = (first: BufferGeometry, second: BufferGeometry): TwoBodies => {
      first.applyMatrix4(after.fromScan.clone().multiply(before.fromScan.clone().invert()));
      return [first, second];
    };
    const [coarseBefore, coarseAfter] = await Promise.all([read(before, 'view-light.glb'), read(after, 'view-light.glb')]);
    if (coarseBefore !== null && coarseAfter !== null && !signal.aborted) early(inOneFrame(coarseBefore, coarseAfter));
    const whole = async (result: Result): Promise<BufferGeometry> =>
      (await read(result, `view-${body}.glb`)) ?? new STLLoader().parse((await askBytes(`/revisions/${result.id}/files/${body}.stl`, { signal })).bytes);
    const [first, second] = await Promise.all([whole(before), whole(after)]);
    return inOneFrame(first, second);
  } finally {
    thread.close();
  }
}

function geometryOf({ positions, normals, triangles }: ShownBody): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setAttribute('normal', new BufferAttribute(normals, 3));
  geometry.setIndex(new BufferAttribute(triangles, 1));
  return geometry;
}

export interface DeviationSurfaces {
  /** The first, laid on the second and coloured by how far it stands off; the second. */
  readonly bodies: readonly [BufferGeometry, BufferGeometry];
  /** The end of the colour scale, mm. */
  readonly rangeMm: number;
}

/** deviation.glb of a comparison. Its coordinates are mm, z up, before the way that its nodes lay them. */
export async function readDeviation(comparisonId: string, signal: AbortSignal): Promise<DeviationSurfaces> {
  const { bytes } = await askBytes(`/comparisons/${comparisonId}/files/deviation.glb`, { signal });
  const { scene } = await new GLTFLoader().parseAsync(bytes, '');
  const found = new Map<string, Mesh>();
  scene.traverse((object) => void (object instanceof Mesh && found.set(object.name, object)));
  const [first, second] = [found.get('first'), found.get('second')];
  if (first === undefined || second === undefined) throw new Error('The deviation file holds other bodies than it should.');
  return { bodies: [first.geometry, second.geometry], rangeMm: Number((first.userData as { rangeMm?: number }).rangeMm ?? 0) };
}
