/** Perimeter of an ellipse: its elliptic integral by the trapezoid rule, which is exact to rounding for a smooth periodic function. */
export function ellipsePerimeter(a: number, b: number): number {
  const steps = 4096;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const t = (2 * Math.PI * i) / steps;
    sum += Math.hypot(a * Math.sin(t), b * Math.cos(t));
  }
  return (sum * 2 * Math.PI) / steps;
}

/** Ramanujan's second approximation (Modular equations and approximations to π, 1914); good to 1e-9 for axes up to 2 : 1. */
export function ramanujanPerimeter(a: number, b: number): number {
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}
