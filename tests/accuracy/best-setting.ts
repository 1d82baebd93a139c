import type { ErrorSums } from '../phantoms/scoring/score-surface.js';
import { addSums, rms } from '../phantoms/scoring/score-surface.js';
import { bookPhantom, scoreWhole } from './cast-scores.js';
import type { Setting } from './whole-surface/filters.js';
import { SETTINGS } from './whole-surface/filters.js';

export interface TriedSetting {
  readonly setting: Setting;
  /** RMS error left where marks were, mm: what the best setting has least of. */
  readonly atMarks: number;
  /** RMS over marks and everything else together, mm. */
  readonly over: number;
}

/** Every setting on casts of the tuning seeds; the best first. */
export function trySettings(seeds: readonly number[], triangles: number): TriedSetting[] {
  const sums = SETTINGS.map(() => ({ fingers: none(), all: none() }));
  for (const seed of seeds) {
    const phantom = bookPhantom(seed, triangles);
    SETTINGS.forEach((setting, i) => {
      const { fingers, elsewhere } = scoreWhole(phantom, setting);
      addSums(sums[i].fingers, fingers);
      addSums(sums[i].all, fingers);
      addSums(sums[i].all, elsewhere);
    });
  }
  return SETTINGS.map((setting, i) => ({ setting, atMarks: rms(sums[i].fingers), over: rms(sums[i].all) })).sort((a, b) => a.atMarks - b.atMarks);
}

const none = (): ErrorSums => ({ count: 0, squares: 0, sample: [] });
