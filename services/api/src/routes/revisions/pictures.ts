import { eq } from 'drizzle-orm';
import { z } from 'zod';
import { casts, revisions } from '@cast-to-last/runtime/records/schema';
import { notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { PICTURES } from '../../threads/thread-task.js';
import type { PictureName } from '../../threads/thread-task.js';

const query = z.strictObject({
  body: z.enum(['scan', 'cleaned', 'last']).default('cleaned'),
  /** mm at the ends of the scale of change; left out, no change is shown. */
  change: z.coerce.number().min(0.05).max(50).optional(),
});

export const readPicture = route({
  method: 'get', path: '/revisions/:id/pictures/:view', query, produces: 'image/png',
  summary: 'A picture of a result for where nothing can be drawn in three dimensions: top, sole, outer, inner, heel or toes. The header Picture-Place says where on it a place of the foot lies, and which marks are seen.',
  handle: async ({ service: { runtime: { records: { db } }, geometry }, params: { id, view }, query: { body, change }, request, response }) => {
    if (!(PICTURES as readonly string[]).includes(view)) throw notFound('picture');
    const [row] = await db.select({ files: revisions.files, side: casts.side }).from(revisions).innerJoin(casts, eq(casts.id, revisions.castId)).where(eq(revisions.id, id));
    const [drawn, report] = [`view-${body}.glb`, 'report.json'].map((name) => row?.files.find((file) => file.name === name));
    if (row === undefined || drawn === undefined || report === undefined) throw notFound('picture of this result');
    const etag = `"${drawn.sha256.slice(0, 24)}-${report.sha256.slice(0, 8)}-${view}-${change ?? ''}"`;
    response.set({ ETag: etag, 'Cache-Control': 'private, no-cache' });
    if (request.headers['if-none-match'] === etag) {
      response.status(304).end();
      return null;
    }
    const { png, ...place } = await geometry.run('draw-picture', { bodySha256: drawn.sha256, reportSha256: report.sha256, side: row.side, view: view as PictureName, body, rangeMm: change ?? null });
    response.set({ 'Content-Type': 'image/png', 'Picture-Place': JSON.stringify(place) }).send(Buffer.from(png));
    return null;
  },
});
