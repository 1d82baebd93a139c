import { ByteScanner } from './byte-scanner.js';
import type { FaceCollector } from './face-collector.js';
import { MeshFormatError } from './format-error.js';
import type { PlyElement, PlyProperty } from './ply-header.js';

/** Reads rows of an ASCII PLY file one element after the other. Counts must have been checked against the bytes left. */
export class PlyAsciiRows {
  private readonly scanner: ByteScanner;
  private readonly size: number;

  constructor(bytes: Uint8Array, at: number) {
    this.scanner = new ByteScanner(bytes, at, 'ASCII PLY file');
    this.size = bytes.length;
  }

  get bytesLeft(): number {
    return this.size - this.scanner.at;
  }

  passOver(element: PlyElement): void {
    if (element.properties.length === 0) return;
    for (let i = 0; i < element.count; i++) this.eachProperty(element, null, null);
  }

  /** x, y, z of each vertex; `axes` are the three properties. */
  readVertices(element: PlyElement, axes: readonly PlyProperty[]): Float64Array {
    const out = new Float64Array(3 * element.count);
    const axisOf = element.properties.map((p) => axes.indexOf(p));
    for (let i = 0; i < element.count; i++) {
      this.eachProperty(element, null, (k, value) => {
        if (axisOf[k] >= 0) out[3 * i + axisOf[k]] = value;
      });
    }
    return out;
  }

  /** Corners of each face into the collector; `corners` is the list property. */
  readFaces(element: PlyElement, corners: PlyProperty, faces: FaceCollector): void {
    const wanted = element.properties.indexOf(corners);
    for (let i = 0; i < element.count; i++) {
      this.eachProperty(element, (k, index) => {
        if (k === wanted) faces.addCorner(index);
      }, null);
      faces.endFace();
    }
  }

  /** Goes over one row, calling back for each item of its lists and for each of its single values. */
  private eachProperty(
    element: PlyElement,
    onItem: ((property: number, item: number) => void) | null,
    onValue: ((property: number, value: number) => void) | null,
  ): void {
    const { scanner } = this;
    for (let k = 0; k < element.properties.length; k++) {
      scanner.skipSpace();
      const value = scanner.readNumber();
      if (element.properties[k].countType === null) {
        onValue?.(k, value);
        continue;
      }
      if (!(value >= 0 && Number.isInteger(value))) throw new MeshFormatError('malformed-file', `The PLY file has a list with the length ${value}.`);
      for (let j = 0; j < value; j++) {
        scanner.skipSpace();
        const item = scanner.readNumber();
        onItem?.(k, item);
      }
    }
  }
}
