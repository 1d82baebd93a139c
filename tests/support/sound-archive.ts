import { createHash } from 'node:crypto';
import { NO_DECISIONS } from '@cast-to-last/pipeline/decisions';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { canonicalJson } from '@cast-to-last/pipeline/digest';
import type { ArchiveManifest } from '@cast-to-last/runtime/archives/archive-manifest';
import { fingerprintOf } from '@cast-to-last/runtime/revisions/revision-ended';

const digest = (content: Uint8Array | string): string => createHash('sha256').update(content).digest('hex');

export interface SoundArchive {
  readonly manifest: ArchiveManifest;
  /** The files that the manifest names, by their paths. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** An order with a customer, one cast, its scan and an approved result, as another workshop would send it; `id` gives the nth id of a row. */
export function soundArchive(id: (nth: number) => string, orderNumber: string): SoundArchive {
  const at = '2026-03-04T05:06:07.890Z';
  const row = (nth: number) => ({ id: id(nth), version: 1, createdAt: at, changedAt: at });
  const files = new Map([['order/scan.stl', 'a scan'], ['order/last.stl', 'a last'], ['order/photo.png', 'a photo']].map(([path, text]) => [path, new TextEncoder().encode(text)]));
  const stored = (path: string) => {
    const bytes = files.get(path) as Uint8Array;
    return { name: path.slice(path.indexOf('/') + 1), sha256: digest(bytes), size: bytes.length };
  };
  const made = [stored('order/last.stl')];
  const inputsSha256 = digest('inputs');
  const fingerprint = fingerprintOf(inputsSha256, '0.1.0', { files: made });
  const scan = stored('order/scan.stl');
  const manifest: ArchiveManifest = {
    schema: 1, what: 'order', exportedAt: at, program: { version: '0.1.0' }, people: [{ id: id(9), displayName: 'Maker' }], history: [],
    files: [...files.keys()].map((path) => ({ path, sha256: stored(path).sha256, size: stored(path).size })),
    rows: {
      customers: [{ ...row(1), number: `K-${orderNumber}`, name: null, contact: null, consent: null, retainUntil: null, erasedAt: null }],
      orders: [{ ...row(2), number: orderNumber, customerId: id(1), state: 'open', content: { orderNumber, remarks: 'felt insole' }, discipline: null }],
      casts: [{
        ...row(3), orderId: id(2), side: 'left', state: 'approved', arrivedAt: at, drying: { since: at, how: 'in the air' }, photos: [{ ...stored('order/photo.png'), type: 'image/png' }], note: 'slipped once',
        recastOfId: null, currentRevisionId: id(7), approvedRevisionId: id(7),
      }],
      scans: [{ ...row(4), castId: id(3), fileName: scan.name, sha256: scan.sha256, size: scan.size, kind: 'positive', unit: 'auto', wallMm: null, sideOverride: false, scannerId: null, personId: id(9) }],
      rule_sets: [{ ...row(5), name: 'house rules', number: 1, content: DEFAULT_RULES, sha256: digest(canonicalJson(DEFAULT_RULES)), note: null, personId: null }],
      decisions: [{ ...row(6), scanId: id(4), content: NO_DECISIONS, sha256: digest(canonicalJson(NO_DECISIONS)), personId: id(9) }],
      revisions: [{
        ...row(7), castId: id(3), scanId: id(4), ruleSetId: id(5), decisionsId: id(6), number: 1, inputsSha256, origin: 'person', batchId: null, state: 'done', files: made, summary: null, refusal: null,
        story: [], fingerprint, programVersion: '0.1.0', endedAt: at,
      }],
      approvals: [{ ...row(8), castId: id(3), revisionId: id(7), verdict: 'approved', reason: null, fingerprint, personId: id(9) }],
    },
  };
  return { manifest, files };
}
