/** How a patch resists bending where points do not steer it. */
export interface SplineStiffness {
  /** Length below which the second derivative is smoothed away where there are points: weight of ∫|∇²X|² is its fourth power. */
  readonly bendLength: number;
  /** The same for the third derivative: its sixth power weighs ∫|∇³X|². 0 leaves it out. */
  readonly curlLength: number;
}

/** The four cubic pieces of a uniform B-spline on one cell, by powers of t in 0 … 1. */
const PIECES = [
  [1 / 6, -1 / 2, 1 / 2, -1 / 6],
  [2 / 3, 0, -1, 1 / 2],
  [1 / 6, 1 / 2, 1 / 2, -1 / 2],
  [0, 0, 0, 1 / 6],
] as const;

const derivative = (piece: readonly number[]): number[] => piece.slice(1).map((c, k) => (k + 1) * c);

const integralOfProduct = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, ca, i) => sum + b.reduce((inner, cb, j) => inner + (ca * cb) / (i + j + 1), 0), 0);

/** Integrals over one cell of the products of the pieces' derivatives of order 0 to 3, by order, then 4 × 4. */
const CELL_GRAM: readonly (readonly number[])[] = [0, 1, 2, 3].map((order) => {
  let pieces: number[][] = PIECES.map((piece) => [...piece]);
  for (let k = 0; k < order; k++) pieces = pieces.map(derivative);
  return pieces.flatMap((a) => pieces.map((b) => integralOfProduct(a, b)));
});

/**
 * Gram matrices of the splines' derivatives over the cells of a row (and not beyond its ends), for unit spacing: by
 * order, then entry (i, i + d) at 7 · i + d + 3.
 */
function rowGrams(side: number): Float64Array[] {
  return CELL_GRAM.map((cell) => {
    const gram = new Float64Array(7 * side);
    for (let c = 0; c + 3 < side; c++) {
      for (let a = 0; a < 4; a++) for (let b = 0; b < 4; b++) gram[7 * (c + a) + b - a + 3] += cell[4 * a + b];
    }
    return gram;
  });
}

/** What two control points weigh against each other for unit weights, at 28 · (their row's point) + 7 · (di + 3) + dj + 3. */
interface UnitEnergy {
  readonly bend: Float64Array;
  readonly curl: Float64Array;
}

/** By control points a side: patches come in few sizes, and there are many hundreds of them. */
const known = new Map<number, UnitEnergy>();

function unitEnergy(side: number): UnitEnergy {
  let found = known.get(side);
  if (found === undefined) {
    found = { bend: new Float64Array(28 * side * side), curl: new Float64Array(28 * side * side) };
    fillUnitEnergy(found, side, rowGrams(side));
    known.set(side, found);
  }
  return found;
}

function fillUnitEnergy({ bend, curl }: UnitEnergy, side: number, grams: readonly Float64Array[]): void {
  const [g0, g1, g2, g3] = grams;
  for (let i = 0; i < side; i++) {
    for (let j = 0; j < side; j++) {
      for (let di = -3; di <= 0; di++) {
        for (let dj = -3; dj <= 3; dj++) {
          const at = 28 * (i * side + j) + 7 * (di + 3) + dj + 3;
          const u = 7 * i + di + 3;
          const v = 7 * j + dj + 3;
          bend[at] = g2[u] * g0[v] + 2 * g1[u] * g1[v] + g0[u] * g2[v];
          curl[at] = g3[u] * g0[v] + 3 * g2[u] * g1[v] + 3 * g1[u] * g2[v] + g0[u] * g3[v];
        }
      }
    }
  }
}

/**
 * Adds what bending and change of bending weigh to the normal equations of a bicubic patch.
 *
 * @param band lower band by rows, as `solveBanded` takes it, of side × side control points row by row
 * @param stride numbers a row of the band
 * @param h knot spacing
 */
export function addEnergy(band: Float64Array, stride: number, side: number, h: number, options: SplineStiffness): void {
  const bend = options.bendLength ** 4 * h ** -2;
  const curl = options.curlLength ** 6 * h ** -4;
  // A whisper of stiffness keeps the matrix positive definite where a patch has hardly any points.
  const ground = 1e-9 * h * h;
  const unit = unitEnergy(side);
  for (let i = 0; i < side; i++) {
    for (let j = 0; j < side; j++) {
      const row = i * side + j;
      for (let di = -3; di <= 0; di++) {
        if (i + di < 0) continue;
        for (let dj = -3; dj <= 3; dj++) {
          if (j + dj < 0 || j + dj >= side || (di === 0 && dj > 0)) continue;
          const column = (i + di) * side + j + dj;
          const at = 28 * row + 7 * (di + 3) + dj + 3;
          const energy = bend * unit.bend[at] + curl * unit.curl[at];
          band[row * stride + row - column] += energy + (row === column ? ground : 0);
        }
      }
    }
  }
}
