/**
 * Triangulates a closed loop of points in space without new points. Where the loop's shadow on its mean plane is a simple
 * polygon, ears are cut there (G. Meisters, 1975); where it is not (slits, loops that wrap round), ears are cut in space,
 * shortest chord first, turned by the normals of the surface around.
 */
export interface LoopTriangles {
  /** Indices into the loop, turned as the loop runs; loop length − 2 triangles. */
  readonly triangles: Uint32Array;
  /** The mean plane's axes (u, v, normal; 9 numbers) where the ears were cut there, else null. */
  readonly plane: Float64Array | null;
}

/** Whether the surface outside joins two of the loop's points (by index) already; no triangle may then do so again. */
export type Joined = (a: number, b: number) => boolean;

/** `points` and `normals` (of the surface around) are 3 × n in the loop's order; the filling lies on the loop's left. */
export function triangulateLoop(points: Float64Array, normals: Float64Array, joined: Joined = () => false): LoopTriangles {
  const plane = meanPlane(points);
  if (plane) {
    const n = points.length / 3;
    const flat = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      for (let r = 0; r < 2; r++) {
        flat[2 * i + r] =
          plane[3 * r] * points[3 * i] + plane[3 * r + 1] * points[3 * i + 1] + plane[3 * r + 2] * points[3 * i + 2];
      }
    }
    const ears = cutEarsInPlane(flat, joined);
    if (ears) return { triangles: ears, plane };
  }
  return { triangles: cutEarsInSpace(points, normals, joined), plane: null };
}

/** u, v and unit normal of the plane in which the loop encloses the largest area; null where it encloses next to none. */
export function meanPlane(points: Float64Array): Float64Array | null {
  const n = points.length / 3;
  const normal = [0, 0, 0];
  let length = 0;
  for (let i = 0; i < n; i++) {
    const a = 3 * i;
    const b = 3 * ((i + 1) % n);
    const ax = points[a] - points[0];
    const ay = points[a + 1] - points[1];
    const az = points[a + 2] - points[2];
    const bx = points[b] - points[0];
    const by = points[b + 1] - points[1];
    const bz = points[b + 2] - points[2];
    normal[0] += ay * bz - az * by;
    normal[1] += az * bx - ax * bz;
    normal[2] += ax * by - ay * bx;
    length += Math.hypot(bx - ax, by - ay, bz - az);
  }
  const size = Math.hypot(...normal);
  if (!(size > 1e-6 * length * length)) return null;
  const w = normal.map((c) => c / size);
  const least = w.map(Math.abs).indexOf(Math.min(...w.map(Math.abs)));
  const u = [0, 1, 2].map((k) => (k === least ? 1 : 0) - w[least] * w[k]);
  const uLength = Math.hypot(...u);
  for (let k = 0; k < 3; k++) u[k] /= uLength;
  return new Float64Array([...u, w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0], ...w]);
}

/** Ears of a simple polygon that turns left; null where none can be cut before three corners are left. */
function cutEarsInPlane(flat: Float64Array, joined: Joined): Uint32Array | null {
  const n = flat.length / 2;
  const next = Uint32Array.from({ length: n }, (_, i) => (i + 1) % n);
  const previous = Uint32Array.from({ length: n }, (_, i) => (i + n - 1) % n);
  const turn = (a: number, b: number, c: number): number =>
    (flat[2 * b] - flat[2 * a]) * (flat[2 * c + 1] - flat[2 * a + 1]) -
    (flat[2 * b + 1] - flat[2 * a + 1]) * (flat[2 * c] - flat[2 * a]);
  let reflex: number[] = [];
  for (let i = 0; i < n; i++) if (turn(previous[i], i, next[i]) <= 0) reflex.push(i);
  const gone = new Uint8Array(n);
  const isReflex = new Uint8Array(n);
  for (const i of reflex) isReflex[i] = 1;

  const isEar = (b: number): boolean => {
    const a = previous[b];
    const c = next[b];
    if (turn(a, b, c) <= 0) return false;
    const lowX = Math.min(flat[2 * a], flat[2 * b], flat[2 * c]);
    const highX = Math.max(flat[2 * a], flat[2 * b], flat[2 * c]);
    const lowY = Math.min(flat[2 * a + 1], flat[2 * b + 1], flat[2 * c + 1]);
    const highY = Math.max(flat[2 * a + 1], flat[2 * b + 1], flat[2 * c + 1]);
    for (const r of reflex) {
      if (gone[r] || !isReflex[r] || r === a || r === b || r === c) continue;
      const x = flat[2 * r];
      const y = flat[2 * r + 1];
      if (x < lowX || x > highX || y < lowY || y > highY) continue;
      if (turn(a, b, r) >= 0 && turn(b, c, r) >= 0 && turn(c, a, r) >= 0) return false;
    }
    return !joined(a, c);
  };

  const out = new Uint32Array(3 * (n - 2));
  let written = 0;
  let left = n;
  let misses = 0;
  let cleaned = reflex.length;
  for (let b = 0; left > 3; ) {
    if (!isEar(b)) {
      if (++misses > left) return null;
      b = next[b];
      continue;
    }
    misses = 0;
    const a = previous[b];
    const c = next[b];
    out.set([a, b, c], written);
    written += 3;
    gone[b] = 1;
    next[a] = c;
    previous[c] = a;
    left--;
    for (const i of [a, c]) {
      if (isReflex[i] && turn(previous[i], i, next[i]) > 0) {
        isReflex[i] = 0;
        cleaned--;
      }
    }
    if (cleaned < reflex.length / 2) reflex = reflex.filter((r) => isReflex[r] && !gone[r]);
    b = next[c];
  }
  const last = gone.indexOf(0);
  if (turn(previous[last], last, next[last]) <= 0) return null;
  out.set([previous[last], last, next[last]], written);
  return out;
}

/** Added to the cost of an ear whose chord exists already. */
const LAST = 1e9;

/** Ears in space by a heap of chords; always gives n − 2 triangles. */
function cutEarsInSpace(points: Float64Array, normals: Float64Array, joined: Joined): Uint32Array {
  const n = points.length / 3;
  const next = Uint32Array.from({ length: n }, (_, i) => (i + 1) % n);
  const previous = Uint32Array.from({ length: n }, (_, i) => (i + n - 1) % n);
  const stamp = new Uint32Array(n);
  const heap: { cost: number; at: number; stamp: number }[] = [];
  const push = (at: number): void => {
    const last = joined(previous[at], next[at]) ? LAST : 0;
    heap.push({ cost: last + earCost(points, normals, previous[at], at, next[at]), at, stamp: stamp[at] });
    for (let i = heap.length - 1; i > 0; ) {
      const up = (i - 1) >> 1;
      if (heap[up].cost <= heap[i].cost) break;
      [heap[up], heap[i]] = [heap[i], heap[up]];
      i = up;
    }
  };
  const pop = (): { at: number; stamp: number } => {
    const top = heap[0];
    const last = heap.pop() as (typeof heap)[0];
    if (heap.length > 0) {
      heap[0] = last;
      for (let i = 0; ; ) {
        let least = i;
        for (const child of [2 * i + 1, 2 * i + 2]) if (child < heap.length && heap[child].cost < heap[least].cost) least = child;
        if (least === i) break;
        [heap[least], heap[i]] = [heap[i], heap[least]];
        i = least;
      }
    }
    return top;
  };
  for (let i = 0; i < n; i++) push(i);
  const out = new Uint32Array(3 * (n - 2));
  for (let written = 0; written < out.length; ) {
    const top = pop();
    if (top.stamp !== stamp[top.at]) continue;
    const b = top.at;
    const a = previous[b];
    const c = next[b];
    out.set([a, b, c], written);
    written += 3;
    next[a] = c;
    previous[c] = a;
    stamp[b]++;
    for (const i of [a, c]) {
      stamp[i]++;
      push(i);
    }
  }
  return out;
}

/** The chord's length; far more where the corner turns outward, so that those go last. */
function earCost(points: Float64Array, normals: Float64Array, a: number, b: number, c: number): number {
  const u = [0, 1, 2].map((k) => points[3 * b + k] - points[3 * a + k]);
  const v = [0, 1, 2].map((k) => points[3 * c + k] - points[3 * b + k]);
  const cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const dot = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
  const sine = cross[0] * normals[3 * b] + cross[1] * normals[3 * b + 1] + cross[2] * normals[3 * b + 2];
  const turn = Math.atan2(sine, dot);
  const chord = Math.hypot(u[0] + v[0], u[1] + v[1], u[2] + v[2]);
  return turn > -0.2 ? chord : chord + (Math.hypot(...u) + Math.hypot(...v)) * (10 - 10 * turn);
}
