import type { Rng } from './rng.ts';

/** What parsers trip over: signs that no database takes, numbers beyond a column, instants beyond a calendar, nesting without end. */
const ODD: readonly unknown[] = [
  null, true, '', 'a\u0000b', '\ud800', ' ', 'x'.repeat(5000), '__proto__', '../../x', 0, -1, 0.5, 2 ** 31, 2 ** 53, 1e308, -1e-320, [], {}, [[]], ['a\u0000b'],
  '0000-01-01T00:00:00Z', '0001-01-01T00:00:00.000Z', '9999-12-31T23:59:59.999Z', '2026-02-29', '10000000-0000-1000-8000-00000000000',
];
const DEEP = 800;

/** A copy of something read from JSON with one to four values changed, taken away, doubled or put in another's place. */
export function woundJson(sound: unknown, random: Rng): unknown {
  const copy: unknown = JSON.parse(JSON.stringify(sound));
  for (let wounds = 1 + random.below(4); wounds > 0; wounds--) wound(copy, random);
  return copy;
}

function wound(root: unknown, random: Rng): void {
  const there = placeIn(root, random);
  if (there === null) return;
  const { holder, key } = there;
  switch (random.below(6)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete holder[key];
      break;
    case 1:
      if (Array.isArray(holder)) holder.push(JSON.parse(JSON.stringify(holder[Number(key)])));
      else holder[`${key}2`] = holder[key];
      break;
    case 2: {
      const other = placeIn(root, random);
      holder[key] = other === null ? null : (JSON.parse(JSON.stringify(other.holder[other.key] ?? null)) as unknown);
      break;
    }
    case 3:
      if (random.next() < 0.1) holder[key] = nested();
      else if (typeof holder[key] === 'string') holder[key] = `${(holder[key] as string).slice(1)}${['\u0000', '0', 'é', '\u202e'][random.below(4)]}`;
      break;
    default:
      holder[key] = structuredClone(ODD[random.below(ODD.length)]);
  }
}

/** Some value below, by what holds it: each key of a holder is as likely as the next, however much lies under it. Null where there is none. */
function placeIn(root: unknown, random: Rng): { readonly holder: Record<string, unknown>; readonly key: string } | null {
  let holder = root as Record<string, unknown>;
  for (;;) {
    const keys = typeof holder === 'object' && holder !== null ? Object.keys(holder) : [];
    if (keys.length === 0) return null;
    const key = keys[random.below(keys.length)];
    const inner = holder[key];
    if (typeof inner !== 'object' || inner === null || Object.keys(inner).length === 0 || random.next() < 0.1) return { holder, key };
    holder = inner as Record<string, unknown>;
  }
}

function nested(): unknown {
  let value: unknown = 1;
  for (let level = 0; level < DEEP; level++) value = [value];
  return value;
}
