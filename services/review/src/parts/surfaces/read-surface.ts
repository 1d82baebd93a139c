import { BufferGeometry, Matrix4, Mesh } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { ask, askBytes } from '../../server/ask.js';

/** A surface of a result in the foot frame of that result, mm. */
export interface ResultSurface {
  readonly geometry: BufferGeometry;
  /** Scan coordinates to this foot frame. */
  readonly fromScan: Matrix4;
}

export type SurfaceFile = 'last.stl' | 'cleaned.stl';

/** One surface of a result, by its file. Throws ServerProblem. */
export async function readSurface(revisionId: string, file: SurfaceFile, signal: AbortSignal): Promise<ResultSurface> {
  const [{ bytes }, { body }] = await Promise.all([
    askBytes(`/revisions/${revisionId}/files/${file}`, { signal }),
    ask<{ transform: readonly number[] }>('GET', `/revisions/${revisionId}/files/report.json`, { signal }),
  ]);
  const fromScan = new Matrix4();
  fromScan.set(...(body.transform as Parameters<Matrix4['set']>));
  return { geometry: new STLLoader().parse(bytes), fromScan };
}

/** Two results of one scan in the frame of the second: the scan joins the frames. */
export async function readBeforeAfter(beforeId: string, afterId: string, file: SurfaceFile, signal: AbortSignal): Promise<readonly [BufferGeometry, BufferGeometry]> {
  const [before, after] = await Promise.all([beforeId, afterId].map((id) => readSurface(id, file, signal)));
  before.geometry.applyMatrix4(after.fromScan.clone().multiply(before.fromScan.clone().invert()));
  return [before.geometry, after.geometry];
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
