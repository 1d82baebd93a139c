import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { z } from 'zod';
import { isCalendarDate } from '@cast-to-last/pipeline/order';
import { scannerChecks, scanners } from '@cast-to-last/runtime/records/schema';
import { PROGRAM_VERSION } from '@cast-to-last/runtime/program-version';
import { notFound, unusable } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { limitsOf, shownCheck } from './scanners.js';

const mm = (least: number, most: number) => z.coerce.number().min(least).max(most);

export const addScannerCheck = route({
  method: 'post', path: '/scanners/:id/checks', summary: 'Measures a scanner by its scan of one or two gauge balls, whose bytes are the body, and keeps the check.', status: 201, body: 'bytes',
  query: z.strictObject({
    fileName: z.string().trim().min(1).max(200).refine((text) => !/[\\/\p{Cc}]/u.test(text), 'must be the name of a file, without folders').default('gauge.stl'),
    diameterMm: mm(3, 300), distanceMm: mm(5, 5000).optional(), uncertaintyMm: mm(0, 5).default(0),
    unit: z.enum(['auto', 'mm', 'cm', 'm', 'in']).default('auto'), date: z.string().refine(isCalendarDate, 'must be a date, YYYY-MM-DD').optional(),
  }),
  handle: async ({ service: { runtime: { records, artifacts, config }, geometry }, by, params: { id: scannerId }, query, request }) => {
    const { fileName, diameterMm, distanceMm = null, uncertaintyMm, unit } = query;
    if (distanceMm !== null && distanceMm <= diameterMm) throw unusable([{ path: 'distanceMm', message: 'runs from centre to centre: it is more than the diameter' }]);
    const [scanner] = await records.db.select({ id: scanners.id }).from(scanners).where(eq(scanners.id, scannerId));
    if (scanner === undefined) throw notFound('scanner');
    const { sha256 } = await artifacts.add(request, { maxBytes: config.uploadMaxBytes });
    const date = query.date ?? new Date().toISOString().slice(0, 10);
    const content = await geometry.run('check-scanner', {
      sha256, fileName, unit, gauge: { diameterMm, distanceMm, uncertaintyMm }, limits: await limitsOf(records.db), date, programVersion: PROGRAM_VERSION,
    });
    const id = randomUUID();
    const row = await records.change(by, 'scanner.checked', { table: 'scanners', id: scannerId }, async (draft) => {
      await draft.expect('scanners', scannerId);
      // The same scan of the same gauge, sent twice, is one check.
      const kept = (await draft.tx.select().from(scannerChecks).where(eq(scannerChecks.scannerId, scannerId)))
        .find((check) => check.content.date === date && check.content.scan.sha256 === sha256 && check.content.gauge.diameterMm === diameterMm && check.content.gauge.distanceMm === distanceMm);
      return kept ?? draft.put('scanner_checks', { id, scannerId, at: `${date}T00:00:00.000Z`, content, verdict: content.verdict });
    });
    return { status: row.id === id ? 201 : 200, body: shownCheck(row) };
  },
});
