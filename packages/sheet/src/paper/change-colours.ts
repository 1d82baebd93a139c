/**
 * Colours for the signed change between a scan and its cleaned cast: blue where the surface went in, near white where
 * it stayed, brown where it came out. Blue against orange-brown is told apart with every common kind of colour
 * blindness, and both ends are dark, so the amount shows in grey print as well.
 */
const STOPS: readonly (readonly [number, number, number])[] = [
  [22, 58, 130],
  [86, 146, 208],
  [244, 244, 242],
  [232, 152, 72],
  [132, 52, 4],
];

const STEPS = 512;

/** OKLab (B. Ottosson, 2020, bottosson.github.io/posts/oklab), in which equal steps look about equally large. */
function toOklab([r, g, b]: readonly number[]): number[] {
  const [lr, lg, lb] = [r, g, b].map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
  const l = Math.cbrt(0.4122214708 * lr + 0.5363325363 * lg + 0.0514459929 * lb);
  const m = Math.cbrt(0.2119034982 * lr + 0.6806995451 * lg + 0.1073969566 * lb);
  const s = Math.cbrt(0.0883024619 * lr + 0.2817188376 * lg + 0.6299787005 * lb);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function fromOklab([L, a, b]: readonly number[]): number[] {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ].map((c) => Math.min(255, Math.max(0, Math.round(255 * (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055)))));
}

/** STEPS + 1 colours from the inward end to the outward end. */
const TABLE: Uint8Array = (() => {
  const lab = STOPS.map(toOklab);
  const table = new Uint8Array(3 * (STEPS + 1));
  for (let i = 0; i <= STEPS; i++) {
    const t = (i / STEPS) * (STOPS.length - 1);
    const k = Math.min(Math.floor(t), STOPS.length - 2);
    table.set(fromOklab(lab[k].map((c, axis) => c + (t - k) * (lab[k + 1][axis] - c))), 3 * i);
  }
  return table;
})();

function step(change: number, range: number): number {
  const t = range > 0 ? change / range : 0;
  return Math.round((Math.min(1, Math.max(-1, t)) + 1) * (STEPS / 2));
}

/** sRGB, 0 to 255, of a signed change in mm (positive: outward) on a scale from −range to +range. */
export function changeColour(change: number, range: number): [number, number, number] {
  const i = 3 * step(change, range);
  return [TABLE[i], TABLE[i + 1], TABLE[i + 2]];
}

/** The colours of many changes; length 3 × changes. */
export function changeColours(changes: Float64Array, range: number): Uint8Array {
  const out = new Uint8Array(3 * changes.length);
  for (let v = 0; v < changes.length; v++) {
    const i = 3 * step(changes[v], range);
    out[3 * v] = TABLE[i];
    out[3 * v + 1] = TABLE[i + 1];
    out[3 * v + 2] = TABLE[i + 2];
  }
  return out;
}

/** Ends of scales that are easy to read, mm. */
const RANGES = [0.5, 1, 2, 3, 5, 10];

/** The smallest of the usual scale ends that covers 99 % of the changes that are not 0; 10 mm at most. */
export function changeRange(changes: Float64Array): number {
  const nonzero = changes.filter((c) => c !== 0).map(Math.abs).sort();
  if (nonzero.length === 0) return RANGES[0];
  const covered = nonzero[Math.ceil(0.99 * nonzero.length) - 1];
  return RANGES.find((end) => end >= covered) ?? RANGES[RANGES.length - 1];
}
