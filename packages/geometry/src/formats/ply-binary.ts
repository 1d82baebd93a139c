import type { FaceCollector } from './face-collector.js';
import { MeshFormatError } from './format-error.js';
import type { PlyElement, PlyProperty, PlyScalar } from './ply-header.js';
import { PLY_SCALAR_BYTES } from './ply-header.js';

/** One value of a binary PLY file. */
function readScalar(v: DataView, at: number, type: PlyScalar, little: boolean): number {
  switch (type) {
    case 'int8': return v.getInt8(at);
    case 'uint8': return v.getUint8(at);
    case 'int16': return v.getInt16(at, little);
    case 'uint16': return v.getUint16(at, little);
    case 'int32': return v.getInt32(at, little);
    case 'uint32': return v.getUint32(at, little);
    case 'float32': return v.getFloat32(at, little);
    case 'float64': return v.getFloat64(at, little);
  }
}

const cutShort = (element: PlyElement): MeshFormatError =>
  new MeshFormatError('truncated-file', `The PLY file ends inside its rows of "${element.name}", so it is cut short.`);

/** Bytes of a row without lists; null where the element has a list. */
function fixedRowBytes(element: PlyElement): number | null {
  let sum = 0;
  for (const p of element.properties) {
    if (p.countType !== null) return null;
    sum += PLY_SCALAR_BYTES[p.type];
  }
  return sum;
}

/** Reads rows of a binary PLY file one element after the other. Counts must have been checked against the bytes left. */
export class PlyBinaryRows {
  at: number;
  private readonly v: DataView;
  private readonly little: boolean;

  constructor(bytes: Uint8Array, at: number, little: boolean) {
    this.v = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.at = at;
    this.little = little;
  }

  get bytesLeft(): number {
    return this.v.byteLength - this.at;
  }

  passOver(element: PlyElement): void {
    const row = fixedRowBytes(element);
    if (row !== null) {
      this.at += row * element.count;
      return;
    }
    for (let i = 0; i < element.count; i++) this.eachProperty(element, null, null);
  }

  /** x, y, z of each vertex; `axes` are the three properties. */
  readVertices(element: PlyElement, axes: readonly PlyProperty[]): Float64Array {
    const { v, little } = this;
    const out = new Float64Array(3 * element.count);
    const row = fixedRowBytes(element);
    if (row === null) {
      for (let i = 0; i < element.count; i++) {
        this.eachProperty(element, null, (property, value) => {
          const axis = axes.indexOf(property);
          if (axis >= 0) out[3 * i + axis] = value;
        });
      }
      return out;
    }
    axes.forEach((axis, k) => {
      let offset = 0;
      for (const p of element.properties) {
        if (p === axis) break;
        offset += PLY_SCALAR_BYTES[p.type];
      }
      let at = this.at + offset;
      for (let i = k; i < out.length; i += 3, at += row) out[i] = readScalar(v, at, axis.type, little);
    });
    this.at += row * element.count;
    return out;
  }

  /** Corners of each face into the collector; `corners` is the list property. */
  readFaces(element: PlyElement, corners: PlyProperty, faces: FaceCollector): void {
    for (let i = 0; i < element.count; i++) {
      this.eachProperty(element, (property, index) => {
        if (property === corners) faces.addCorner(index);
      }, null);
      faces.endFace();
    }
  }

  /** Goes over one row, calling back for each item of its lists and for each of its single values. */
  private eachProperty(
    element: PlyElement,
    onItem: ((property: PlyProperty, item: number) => void) | null,
    onValue: ((property: PlyProperty, value: number) => void) | null,
  ): void {
    const { v, little } = this;
    const end = v.byteLength;
    for (const property of element.properties) {
      const size = PLY_SCALAR_BYTES[property.type];
      if (property.countType === null) {
        if (this.at + size > end) throw cutShort(element);
        onValue?.(property, readScalar(v, this.at, property.type, little));
        this.at += size;
        continue;
      }
      const countBytes = PLY_SCALAR_BYTES[property.countType];
      if (this.at + countBytes > end) throw cutShort(element);
      const count = readScalar(v, this.at, property.countType, little);
      this.at += countBytes;
      if (!(count >= 0 && Number.isInteger(count))) throw new MeshFormatError('malformed-file', `The PLY file has a list with the length ${count}.`);
      if (this.at + count * size > end) throw cutShort(element);
      if (onItem !== null) for (let k = 0; k < count; k++) onItem(property, readScalar(v, this.at + k * size, property.type, little));
      this.at += count * size;
    }
  }
}
