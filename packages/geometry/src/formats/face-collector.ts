import { MeshFormatError } from './format-error.js';
import { GrowableUint32 } from './growable.js';
import { grouped } from './mesh-file.js';
import { triangulatePolygon } from './triangulate-polygon.js';

/** Polygons with more corners are refused; the cap of a scan has some hundreds. */
const MOST_CORNERS = 10_000;

/** Takes the faces of a PLY or OBJ file corner by corner; polygons wait until all vertices are known. */
export class FaceCollector {
  private readonly triangles = new GrowableUint32();
  private readonly polygonCorners = new GrowableUint32();
  private readonly polygonSizes = new GrowableUint32();
  private readonly corners = new GrowableUint32(64);
  private count = 0;
  private readonly maxTriangles: number;
  private readonly what: string;
  /** Faces with fewer than three corners. */
  skipped = 0;
  /** Whether the last face was one of these. */
  lastSkipped = false;

  /** `what` names the file in messages, for example "PLY file". */
  constructor(maxTriangles: number, what: string) {
    this.maxTriangles = maxTriangles;
    this.what = what;
  }

  /** A corner of the face that is being read: an index from 0. */
  addCorner(vertex: number): void {
    if (!(vertex >= 0 && vertex < 0xffffffff && Number.isInteger(vertex))) throw this.badIndex(vertex);
    this.corners.push(vertex);
  }

  /** The face that was being read is complete. */
  endFace(): void {
    const { corners } = this;
    const n = corners.length;
    corners.length = 0;
    this.lastSkipped = n < 3;
    if (this.lastSkipped) {
      this.skipped++;
      return;
    }
    if (n > MOST_CORNERS) {
      throw new MeshFormatError('unsupported-content', `The ${this.what} holds a polygon with ${grouped(n)} corners; ${grouped(MOST_CORNERS)} is the limit.`);
    }
    this.count += n - 2;
    if (this.count > this.maxTriangles) {
      throw new MeshFormatError('too-many-triangles', `The ${this.what} holds more than ${grouped(this.maxTriangles)} triangles, which is the limit.`);
    }
    const into = n === 3 ? this.triangles : this.polygonCorners;
    for (let k = 0; k < n; k++) into.push(corners.at(k));
    if (n > 3) this.polygonSizes.push(n);
  }

  get isEmpty(): boolean {
    return this.count === 0;
  }

  /** All triangles: those of the file first, then those of its polygons. Errors: bad-vertex-index. */
  finish(positions: Float64Array): Uint32Array {
    const vertices = positions.length / 3;
    const direct = this.triangles.finish();
    const corners = this.polygonCorners.finish();
    const sizes = this.polygonSizes.finish();
    for (const indices of [direct, corners]) {
      for (let i = 0; i < indices.length; i++) if (indices[i] >= vertices) throw this.badIndex(indices[i], vertices);
    }
    if (sizes.length === 0) return direct;
    const out = new Uint32Array(3 * this.count);
    out.set(direct);
    let at = direct.length;
    let from = 0;
    for (const size of sizes) {
      triangulatePolygon(positions, corners.subarray(from, from + size), out, at);
      from += size;
      at += 3 * (size - 2);
    }
    return out;
  }

  private badIndex(vertex: number, vertices?: number): MeshFormatError {
    const held = vertices === undefined ? '' : `, but there are only ${grouped(vertices)} vertices`;
    return new MeshFormatError('bad-vertex-index', `A face of the ${this.what} uses vertex ${vertex} (counted from 0)${held}.`);
  }
}
