/** 0 up to t = 0, 1 from t = 1, with first and second derivatives 0 at both (quintic). */
export function smoothStep(t: number): number {
  if (t <= 0) return 0;
  return t >= 1 ? 1 : t * t * t * (10 + t * (6 * t - 15));
}

/** −1 up to t = −1, 1 from t = 1, odd, with first and second derivatives 0 at both ends (quintic). */
export function smoothSign(t: number): number {
  if (t <= -1) return -1;
  return t >= 1 ? 1 : (t * (15 + t * t * (3 * t * t - 10))) / 8;
}
