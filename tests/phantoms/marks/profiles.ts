import type { Random } from '../random.js';

/** Height of a finger mark at r ≥ 0 (1 = the nominal radius), 1 at r = 0; goes to 0 further out. */
export type RadialProfile = (r: number) => number;

const cap: RadialProfile = (r) => {
  // Spherical cap of unit radius whose rim is rounded: the soft maximum of the cap's height and 0.
  const h = 1 - r * r;
  const k = 0.28;
  const soft = (v: number): number => (v > k ? v : v < -k ? 0 : ((v + k) * (v + k)) / (4 * k));
  const s = soft(h);
  return s / soft(1);
};
const cosine: RadialProfile = (r) => (r >= 1 ? 0 : 0.5 * (1 + Math.cos(Math.PI * r)));
const gaussian: RadialProfile = (r) => {
  if (r >= 1) return 0;
  const cut = Math.exp(-4.5);
  const g = (Math.exp(-4.5 * r * r) - cut) / (1 - cut);
  return g * (1 - r ** 8);
};
const polynomial: RadialProfile = (r) => (r >= 1 ? 0 : (1 - r * r) ** 2);

export const PROFILES: { readonly [name: string]: RadialProfile } = { cap, cosine, gaussian, polynomial };

/** `core` with material pushed up around it: a ring of `share` of the depth, of the other sign. */
export const withRim = (core: RadialProfile, share: number): RadialProfile => {
  const ring = (r: number): number => {
    const u = (r - 1.12) / 0.42;
    return Math.abs(u) >= 1 ? 0 : (1 - u * u) ** 3;
  };
  return (r) => core(r) - share * ring(r);
};

/** Where `profile` falls to a tenth of its height at 0. */
export function tenthRadius(profile: RadialProfile): number {
  let low = 0;
  let high = 1.2;
  for (let i = 0; i < 40; i++) {
    const mid = (low + high) / 2;
    if (profile(mid) > 0.1) low = mid;
    else high = mid;
  }
  return low;
}

export function drawProfile(random: Random): { name: string; profile: RadialProfile } {
  const name = random.pick(Object.keys(PROFILES));
  if (!random.chance(0.3)) return { name, profile: PROFILES[name] };
  return { name: `${name} with rim`, profile: withRim(PROFILES[name], random.between(0.08, 0.25)) };
}
