import type { Rng } from './rng.ts';

type Holder = Record<string, unknown> | unknown[];

/** What parsers trip over: signs that no database takes, numbers beyond a column, instants beyond a calendar, nesting without end. */
const ODD: readonly unknown[] = [
  null, true, '', 'a\u0000b', '\ud800', ' ', 'x'.repeat(5000), '__proto__', '../../x', 0, -1, 0.5, 2 ** 31, 2 ** 53, 1e308, -1e-320, [], {}, [[]], ['a\u0000b'],
  '0000-01-01T00:00:00Z', '0001-01-01T00:00:00.000Z', '9999-12-31T23:59:59.999Z', '2026-02-29', '10000000-0000-1000-8000-00000000000',
];
const DEEP = 5000;

/** A copy of something read from JSON with one to four values changed, taken away, doubled or put in another's place. */
export function woundJson(sound: unknown, random: Rng): unknown {
  const copy: unknown = JSON.parse(JSON.stringify(sound));
  for (let wounds = 1 + random.below(4); wounds > 0; wounds--) wound(copy, random);
  return copy;
}

function wound(root: unknown, random: Rng): void {
  const places = placesOf(root);
  if (places.length === 0) return;
  const [holder, key] = places[random.below(places.length)];
  const there = holder as Record<string | number, unknown>;
  switch (random.below(6)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete there[key];
      break;
    case 1:
      if (Array.isArray(holder)) holder.push(JSON.parse(JSON.stringify(holder[Number(key)])));
      else there[`${key}2`] = there[key];
      break;
    case 2: {
      const [otherHolder, otherKey] = places[random.below(places.length)];
      const other: unknown = (otherHolder as Record<string | number, unknown>)[otherKey];
      there[key] = other === undefined ? null : JSON.parse(JSON.stringify(other));
      break;
    }
    case 3:
      if (random.next() < 0.1) there[key] = nested();
      else if (typeof there[key] === 'string') there[key] = `${(there[key] as string).slice(1)}${['\u0000', '0', 'é', '\u202e'][random.below(4)]}`;
      break;
    default:
      there[key] = ODD[random.below(ODD.length)];
  }
}

/** Every value below, by what holds it. */
function placesOf(value: unknown, places: [Holder, string][] = []): [Holder, string][] {
  if (typeof value !== 'object' || value === null) return places;
  for (const [key, inner] of Object.entries(value)) {
    places.push([value as Holder, key]);
    // What was nested without end before is gone into no further.
    if (places.length < 5000) placesOf(inner, places);
  }
  return places;
}

function nested(): unknown {
  let value: unknown = 1;
  for (let level = 0; level < DEEP; level++) value = [value];
  return value;
}
