import { PerspectiveCamera, Vector3, WebGLRenderTarget } from 'three';
import type { Scene, WebGLRenderer } from 'three';
import type { BodyName, FootStand } from './foot-stand.js';

export interface CloseUp {
  /** Foot frame, mm; the normal is a unit vector. */
  readonly at: readonly [number, number, number];
  readonly normal: readonly [number, number, number];
  /** mm of surface across the picture. */
  readonly wide: number;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

const FIELD = (24 * Math.PI) / 180;
/** What lies within this share of the picture's width of its middle is drawn. */
const REACH = 1.5;
/** The viewer stands this far off the normal. */
const OFF = (20 * Math.PI) / 180;

export function shootCloseUp(renderer: WebGLRenderer, scene: Scene, stand: FootStand, others: readonly FootStand[], body: BodyName, shot: CloseUp): Uint8ClampedArray<ArrayBuffer> {
  const { width, height } = shot;
  const at = stand.drawn.localToWorld(new Vector3(...shot.at));
  const normal = stand.drawn.localToWorld(new Vector3(...shot.at).add(new Vector3(...shot.normal))).sub(at).normalize();
  // Away from the pole of the surface's slope, or from the toes where it lies level.
  const along = Math.abs(normal.z) > 0.95 ? new Vector3(1, 0, 0) : new Vector3(0, 0, 1);
  const up = along.addScaledVector(normal, -along.dot(normal)).normalize();
  const towards = normal.clone().multiplyScalar(Math.cos(OFF)).addScaledVector(up, -Math.sin(OFF));
  const distance = shot.wide / (width / height) / 2 / Math.tan(FIELD / 2);
  const camera = new PerspectiveCamera((FIELD * 180) / Math.PI, width / height, distance * 0.4, distance + 200);
  camera.position.copy(at).addScaledVector(towards, distance);
  camera.up.copy(up);
  camera.lookAt(at);
  camera.updateMatrixWorld();

  const target = new WebGLRenderTarget(width, height, { samples: 4 });
  const pixels = new Uint8Array(4 * width * height);
  for (const other of others) other.group.visible = false;
  stand.alone(body, shot.at, REACH * shot.wide, () => {
    renderer.setRenderTarget(target);
    renderer.render(scene, camera);
    renderer.readRenderTargetPixels(target, 0, 0, width, height, pixels);
    renderer.setRenderTarget(null);
  });
  for (const other of others) other.group.visible = true;
  target.dispose();
  const upright = new Uint8ClampedArray(pixels.length);
  for (let row = 0; row < height; row++) upright.set(pixels.subarray(4 * width * row, 4 * width * (row + 1)), 4 * width * (height - 1 - row));
  return upright;
}
