import { and, eq } from 'drizzle-orm';
import type { ChangeDraft } from '@cast-to-last/runtime/records/changes/change';
import { scans } from '@cast-to-last/runtime/records/schema';
import type { RowOf } from '@cast-to-last/runtime/records/schema';

type Told = Pick<RowOf<'scans'>, 'castId' | 'sha256' | 'kind' | 'unit' | 'wallMm' | 'sideOverride'>;

/** The scan of a cast with the same bytes of which the same was told: what comes twice is one scan. */
export async function sameScan({ tx }: ChangeDraft, { castId, sha256, kind, unit, wallMm, sideOverride }: Told): Promise<RowOf<'scans'> | undefined> {
  const rows = await tx.select().from(scans).where(and(eq(scans.castId, castId), eq(scans.sha256, sha256)));
  return rows.find((scan) => scan.kind === kind && scan.unit === unit && scan.wallMm === wallMm && scan.sideOverride === sideOverride);
}
