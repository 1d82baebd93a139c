import { Vector3 } from 'three';
import type { PerspectiveCamera } from 'three';
import type { FootStand, Side } from './foot-stand.js';

type Point = readonly [number, number, number];

/** From places of a foot to the canvas and back. Foot frame, mm; canvas, CSS pixels. */
export class Sight {
  private readonly camera: PerspectiveCamera;
  private readonly stands: ReadonlyMap<Side, FootStand>;
  private readonly size: () => { readonly width: number; readonly height: number };
  private readonly mmPerPixel: () => number;

  constructor(camera: PerspectiveCamera, stands: ReadonlyMap<Side, FootStand>, size: () => { readonly width: number; readonly height: number }, mmPerPixel: () => number) {
    this.camera = camera;
    this.stands = stands;
    this.size = size;
    this.mmPerPixel = mmPerPixel;
  }

  /** Where a place of a foot is on the canvas, and whether its surface looks to the viewer. */
  project(side: Side, at: Point, normal: readonly number[] | null): { x: number; y: number; faces: boolean } | null {
    const stand = this.stands.get(side);
    if (stand === undefined) return null;
    const world = stand.drawn.localToWorld(new Vector3(...at));
    let faces = true;
    if (normal !== null) {
      const tip = stand.drawn.localToWorld(new Vector3(at[0] + normal[0], at[1] + normal[1], at[2] + normal[2])).sub(world);
      faces = tip.dot(this.camera.position.clone().sub(world)) > 0.12 * this.camera.position.distanceTo(world);
    }
    world.project(this.camera);
    const { width, height } = this.size();
    return { x: ((world.x + 1) / 2) * width, y: ((1 - world.y) / 2) * height, faces };
  }

  /** As how long a line of a foot is seen, as a share of what it would be across the view. */
  shareSeen(side: Side, [a, b]: readonly [Point, Point]): number {
    const [from, to] = [this.project(side, a, null), this.project(side, b, null)];
    if (from === null || to === null) return 0;
    return (Math.hypot(to.x - from.x, to.y - from.y) * this.mmPerPixel()) / Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  }

  /** Where the viewer is, in the frame of one foot. */
  eye(side: Side): [number, number, number] | null {
    const stand = this.stands.get(side);
    if (stand === undefined) return null;
    const { x, y, z } = stand.drawn.worldToLocal(this.camera.position.clone());
    return [x, y, z];
  }

  /** The ray through a place of the canvas, in the frame of one foot. */
  ray(side: Side, x: number, y: number): { readonly from: [number, number, number]; readonly along: [number, number, number] } | null {
    const [stand, from] = [this.stands.get(side), this.eye(side)];
    if (stand === undefined || from === null) return null;
    const { width, height } = this.size();
    const through = stand.drawn.worldToLocal(new Vector3((2 * x) / width - 1, 1 - (2 * y) / height, 0.5).unproject(this.camera));
    const along = through.sub(new Vector3(...from)).normalize();
    return { from, along: [along.x, along.y, along.z] };
  }
}
