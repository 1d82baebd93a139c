import { BufferAttribute, BufferGeometry } from 'three';

/** The triangles of a geometry that have a corner within a radius of a place, with corners of their own; mm, in its own frame. */
export function trianglesNear(geometry: BufferGeometry, at: readonly [number, number, number], radius: number): BufferGeometry {
  const corners = geometry.index?.array ?? new Uint32Array(0);
  const positions = geometry.getAttribute('position').array;
  const count = positions.length / 3;
  const near = new Uint8Array(count);
  for (let v = 0; v < count; v++) {
    const [x, y, z] = [positions[3 * v] - at[0], positions[3 * v + 1] - at[1], positions[3 * v + 2] - at[2]];
    if (x * x + y * y + z * z < radius * radius) near[v] = 1;
  }
  const place = new Int32Array(count).fill(-1);
  const from: number[] = [];
  const kept: number[] = [];
  for (let t = 0; t < corners.length; t += 3) {
    if (near[corners[t]] + near[corners[t + 1]] + near[corners[t + 2]] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = corners[t + k];
      if (place[v] < 0) place[v] = from.push(v) - 1;
      kept.push(place[v]);
    }
  }
  const part = new BufferGeometry();
  part.setIndex(new BufferAttribute(Uint32Array.from(kept), 1));
  for (const [name, { array, itemSize, normalized }] of Object.entries(geometry.attributes as Record<string, BufferAttribute>)) {
    const own = array.constructor as new (length: number) => typeof array;
    const values = new own(itemSize * from.length);
    from.forEach((v, i) => values.set(array.subarray(itemSize * v, itemSize * (v + 1)), itemSize * i));
    part.setAttribute(name, new BufferAttribute(values, itemSize, normalized));
  }
  return part;
}
