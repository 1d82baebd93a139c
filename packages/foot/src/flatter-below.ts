/** Where the forefoot is looked at, as shares of the length from the heel, and in how many strips. */
const FROM = 0.5;
const TO = 0.9;
const STRIPS = 4;
/** What lies within this share of the length of a strip's lowest or highest point, along the slope of all of them, lies flat there. */
const WITHIN = 0.03;

/**
 * How much wider the forefoot lies flat below than above, as a share of its breadth: a sole is flat, the back of a foot is
 * domed. However the foot is pitched, for either side is seen along its own slope; turned over it is as much below 0.
 *
 * @param along of points spread evenly over the surface, in a rough foot frame, mm
 * @param from where the foot begins, mm along, and its `length`, mm
 */
export function flatterBelow(along: Float64Array, across: Float64Array, up: Float64Array, from: number, length: number): number {
  const strips: number[][] = Array.from({ length: STRIPS }, () => []);
  for (let i = 0; i < along.length; i++) strips[Math.floor((((along[i] - from) / length - FROM) * STRIPS) / (TO - FROM))]?.push(i);
  const flatUnder = (side: 1 | -1): number => flatShare(strips.filter((strip) => strip.length > 0), along, across, up.map((z) => side * z), WITHIN * length);
  return flatUnder(1) - flatUnder(-1);
}

/** The share of the breadth over which the strips lie flat at their lowest; the mean of all. */
function flatShare(strips: readonly (readonly number[])[], along: Float64Array, across: Float64Array, up: Float64Array, within: number): number {
  if (strips.length < 2) return 0;
  const slope = slopeOf(strips.map((strip) => strip.reduce((low, i) => (up[i] < up[low] ? i : low))), along, up);
  let sum = 0;
  for (const strip of strips) {
    const heights = strip.map((i) => up[i] - slope * along[i]);
    const floor = Math.min(...heights) + within;
    const breadth = reachOf(strip, across);
    if (breadth > 0) sum += reachOf(strip.filter((_, k) => heights[k] < floor), across) / breadth;
  }
  return sum / strips.length;
}

const reachOf = (points: readonly number[], across: Float64Array): number => {
  const y = points.map((i) => across[i]);
  return Math.max(...y) - Math.min(...y);
};

/** Of the line through these points, by least squares. */
function slopeOf(points: readonly number[], along: Float64Array, up: Float64Array): number {
  const mean = (values: Float64Array): number => points.reduce((sum, i) => sum + values[i], 0) / points.length;
  const x = mean(along);
  const z = mean(up);
  let xx = 0;
  let xz = 0;
  for (const i of points) {
    xx += (along[i] - x) ** 2;
    xz += (along[i] - x) * (up[i] - z);
  }
  return xx > 0 ? xz / xx : 0;
}
