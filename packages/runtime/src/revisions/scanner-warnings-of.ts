import { asc, eq } from 'drizzle-orm';
import { scannerWarnings } from '@cast-to-last/pipeline/scanner/scanner-warnings';
import type { ScannerRules } from '@cast-to-last/pipeline/rules/scanner-rules';
import type { Db } from '../records/database.js';
import { scannerChecks, scanners } from '../records/schema.js';

/** What must be said of a cast that this scanner scanned, on the sheet's date (YYYY-MM-DD); nothing where no scanner is named. */
export async function scannerWarningsOf(db: Db, scannerId: string | null, date: string, rules: ScannerRules): Promise<readonly string[]> {
  if (scannerId === null) return [];
  const [scanner] = await db.select({ name: scanners.name }).from(scanners).where(eq(scanners.id, scannerId));
  if (scanner === undefined) return [];
  const checks = await db.select({ content: scannerChecks.content }).from(scannerChecks).where(eq(scannerChecks.scannerId, scannerId)).orderBy(asc(scannerChecks.at), asc(scannerChecks.createdAt));
  return scannerWarnings({ schema: 1, scanner: scanner.name, checks: checks.map(({ content }) => content) }, date, rules);
}
