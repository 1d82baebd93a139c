/** The plane normal · p = offset, normal of unit length. */
export interface Plane {
  readonly normal: readonly [number, number, number];
  readonly offset: number;
}

/** The plane of a closed line by Newell's normal, through the mean of its points; null where the line has no area. @param line x, y, z of its points in order */
export function loopPlane(line: ArrayLike<number>): Plane | null {
  const normal: [number, number, number] = [0, 0, 0];
  const middle = [0, 0, 0];
  for (let i = 0; i < line.length; i += 3) {
    const j = (i + 3) % line.length;
    normal[0] += line[i + 1] * line[j + 2] - line[i + 2] * line[j + 1];
    normal[1] += line[i + 2] * line[j] - line[i] * line[j + 2];
    normal[2] += line[i] * line[j + 1] - line[i + 1] * line[j];
    for (let k = 0; k < 3; k++) middle[k] += (3 * line[i + k]) / line.length;
  }
  const length = Math.hypot(...normal);
  if (!(length > 0)) return null;
  for (let k = 0; k < 3; k++) normal[k] /= length;
  return { normal, offset: normal[0] * middle[0] + normal[1] * middle[1] + normal[2] * middle[2] };
}
