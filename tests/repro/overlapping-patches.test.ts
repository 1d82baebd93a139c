import { expect, it } from 'vitest';
import { ExtentFinder } from '@cast-to-last/pipeline/marks/extent';
import { inspectionSurface } from '@cast-to-last/pipeline/marks/inspection-surface';
import { mend } from '@cast-to-last/pipeline/marks/mend';
import { ellipsoid } from '../support/ellipsoid.ts';
import { fromPoint, withMark } from '../support/marked.ts';
import { placeAt } from '../support/place-at.ts';

/** Each patch added its displacement from the scan, so that under two patches the surface moved twice as far as it should. */
it('a mark under two patches is smoothed once', () => {
  const bare = ellipsoid([90, 60, 55], [0, 0, 0], 5);
  const mesh = withMark(bare, fromPoint([0, 60, 0]), -2, 18);
  const none = new Uint8Array(mesh.positions.length / 3);
  const surface = inspectionSurface(mesh, none, true);
  const extent = new ExtentFinder(surface).find(placeAt(surface, [0, 60, 0], 8, -2));
  if (extent === null) throw new Error('the dent was not found');
  const masked = new Uint8Array(surface.areas.length);
  for (const v of extent.vertices) masked[v] = 1;
  const patch = { vertices: extent.vertices, centre: extent.centreVertex, margin: extent.margin };
  const locked = new Uint8Array(masked.length);
  const once = mend(mesh, surface, [patch], masked, locked).mesh.positions;
  const twice = mend(mesh, surface, [patch, patch], masked, locked).mesh.positions;
  const apart = once.reduce((most, c, i) => Math.max(most, Math.abs(c - twice[i])), 0);
  const moved = once.reduce((most, c, i) => Math.max(most, Math.abs(c - mesh.positions[i])), 0);
  expect(moved).toBeGreaterThan(1.5);
  expect(apart).toBeLessThan(0.15);
});
