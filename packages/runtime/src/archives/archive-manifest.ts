import type { RowOf } from '../records/schema.js';

/** The tables whose rows an archive holds, in the order in which they are put elsewhere. */
const ARCHIVED = ['customers', 'orders', 'casts', 'scans', 'rule_sets', 'decisions', 'revisions', 'approvals'] as const;
export type ArchivedTable = (typeof ARCHIVED)[number];

export type ArchivedRows = { readonly [Name in ArchivedTable]: readonly RowOf<Name>[] };

/** manifest.json of an archive: what is in it and where. */
export interface ArchiveManifest {
  readonly schema: 1;
  readonly what: 'order' | 'customer';
  readonly exportedAt: string;
  readonly program: { readonly version: string };
  readonly rows: ArchivedRows;
  /** Names of the persons that rows name by id. */
  readonly people: readonly { readonly id: string; readonly displayName: string }[];
  /** Every file once, though several rows may name it. */
  readonly files: readonly ArchivedFile[];
  /** What was done with the rows, oldest first; of a customer's archive alone. */
  readonly history: readonly { readonly at: string; readonly kind: string; readonly by: string }[];
}

export interface ArchivedFile {
  /** Its name in the archive, for whoever opens it by hand. */
  readonly path: string;
  readonly sha256: string;
  /** bytes */
  readonly size: number;
}

export const MANIFEST = 'manifest.json';
