import { BufferGeometry, Matrix4 } from 'three';
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
