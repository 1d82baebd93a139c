import type { SceneColours } from '../scene/surface-material.js';

const NAMES: Readonly<Record<keyof SceneColours, string>> = {
  ground: '--scene', scan: '--plaster-raw', cleaned: '--plaster', last: '--beech', inside: '--plaster-inside', ask: '--mark-ask', smooth: '--mark-smooth', keep: '--mark-keep',
  patch: '--mark-patch', protect: '--mark-protect', line: '--scene-line', tape: '--scene-tape', section: '--scene-section', length: '--scene-length',
};

/** The scene's colours as the sheet of styles has them now. */
export function sceneColours(): SceneColours {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(Object.entries(NAMES).map(([name, token]) => [name, style.getPropertyValue(token).trim()])) as unknown as SceneColours;
}
