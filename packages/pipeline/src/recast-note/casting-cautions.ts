/** What the note says to everybody who casts a foot, with its sources where a figure has one. */
export const CASTING_CAUTIONS: readonly string[] = [
  'Plaster becomes hot as it sets. Dip the bandage in water under 24\u00a0°C and put on few layers at a time. Skin above 49\u00a0°C burns within 2 to 3 minutes: if it ' +
    'feels hot, take the cast off at once and cool the foot with water.',
  'Do not cast over broken skin. Do not cast a foot that is numb or has poor circulation, with diabetes for instance: ask a doctor or podiatrist first.',
  'Lay the metal strip under the bandage before you wrap, and cut on the strip alone. Keep the blade away from the skin, cut with short strokes ' +
    'away from yourself, and stop if it hurts.',
  'Let the cast dry in the open air. An oven can burn you, scorch what is in it, and warp or crack the cast: if you use one at all, barely warm, without ' +
    'plastic or tape in it, and never leave it alone.',
  'Cutting and sanding dry plaster makes dust: do it outdoors or at an open window, wear a dust mask, and wipe up with a damp cloth.',
  'Use warm water and soap for what sticks to the skin, and never pour plaster down a drain: it hardens there too.',
];

export const CAUTION_SOURCES =
  'Sources: dipping water and layers: Halanski 2007, J Bone Joint Surg Am 89:2369; skin: Hutchinson 2008, doi 10.1186/1749-799X-3-10. Cutting, drying and ' +
  'how to stand: common practice, no source.';

export const CLOSING: readonly string[] = [
  'We make shoes; we do not treat feet. If your foot hurts, swells or changes, please see a doctor or podiatrist. If anything here is unclear, ask us ' +
    'before you cast again.',
];
