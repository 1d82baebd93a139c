import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { Order } from '@cast-to-last/pipeline/order';
import type { Report } from '@cast-to-last/pipeline/report/report';
import type { LengthUnit, ScanKind } from '@cast-to-last/pipeline/records';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';
import type { ArrivedOrder, Drying, WaitsFor } from './arrivals.js';
import type { JobTold } from './events.js';
import type { JobStory } from './jobs.js';
import type { Page } from './page.js';
import { ask, askBytes } from './ask.js';

/** What the service tells of orders, casts and what was made of them. */

export type Side = 'left' | 'right';
export type CastState = 'awaiting-scan' | 'in-work' | 'to-review' | 'approved' | 'sent-back' | 'recast';
export type Verdict = Report['castCheck']['verdict'];

export interface Photo {
  readonly name: string;
  readonly sha256: string;
  readonly size: number;
  readonly type: string;
}

/** A cast as its record stands. */
export interface Cast {
  readonly id: string;
  readonly version: number;
  readonly orderId: string;
  readonly side: Side;
  readonly state: CastState;
  readonly arrivedAt: string | null;
  readonly drying: Drying | null;
  readonly photos: readonly Photo[];
  readonly note: string | null;
  readonly currentRevisionId: string | null;
  readonly approvedRevisionId: string | null;
  readonly createdAt: string;
  readonly changedAt: string;
}

export interface OrderRead {
  readonly id: string;
  readonly number: string;
  readonly discipline: string | null;
  readonly state: 'open' | 'closed' | 'cancelled';
  readonly content: Order;
  readonly casts: readonly Cast[];
}

export interface ListedRevision {
  readonly id: string;
  readonly castId: string;
  readonly number: number;
  readonly state: 'waiting' | 'done' | 'refused' | 'failed' | 'set-aside' | 'cancelled';
  readonly origin: 'person' | 'batch' | 'import';
  readonly rulesId: string;
  readonly decisionsId: string | null;
  readonly fingerprint: string | null;
  readonly createdAt: string;
  readonly endedAt: string | null;
}

export interface StoredFile {
  readonly name: string;
  readonly sha256: string;
  readonly size: number;
}

export interface Approval {
  readonly id: string;
  readonly castId: string;
  readonly revisionId: string;
  readonly verdict: 'approved' | 'sent-back' | 'recast';
  readonly reason: string | null;
  readonly createdAt: string;
  readonly personName?: string | null;
}

export interface RevisionRead extends ListedRevision {
  readonly scanId: string;
  readonly rules: { readonly id: string; readonly name: string; readonly number: number };
  readonly decisions: Decisions;
  /** What was told of its scan; null once it was erased. */
  readonly scan: { readonly kind: ScanKind; readonly unit: LengthUnit | 'auto'; readonly wallMm: number | null; readonly scannerId: string | null } | null;
  readonly files: readonly StoredFile[];
  readonly preview: readonly StoredFile[];
  readonly refusal: { readonly code: string; readonly message: string; readonly remedy: string } | null;
  readonly story: readonly JobStory[];
  readonly approval: Approval | null;
  readonly job: (Pick<JobTold, 'state' | 'stage' | 'done' | 'of'> & { readonly id: string }) | null;
}

/** A girth's tape and the ground of each mark, as sheet.json keeps them. */
export interface SheetFile {
  readonly drawn: {
    readonly stations: readonly { readonly id: string; readonly on: 'cast' | 'last'; readonly line: readonly number[] }[];
    readonly markPoints: Readonly<Record<string, readonly number[]>>;
  };
}

export const listWaiting = async (waits: WaitsFor | null, search: string, after: string | null): Promise<Page<ArrivedOrder>> => {
  const query = new URLSearchParams({ limit: '100', ...(waits !== null && { waits }), ...(search !== '' && { search }), ...(after !== null && { after }) });
  return (await ask<Page<ArrivedOrder>>('GET', `/arrivals?${query.toString()}`)).body;
};

export const readOrder = async (id: string): Promise<OrderRead> => (await ask<OrderRead>('GET', `/orders/${id}`)).body;
export const readCast = async (id: string): Promise<Cast> => (await ask<Cast>('GET', `/casts/${id}`)).body;
export const readRevision = async (id: string): Promise<RevisionRead> => (await ask<RevisionRead>('GET', `/revisions/${id}`)).body;
export const listRevisions = async (castId: string): Promise<readonly ListedRevision[]> => (await ask<Page<ListedRevision>>('GET', `/casts/${castId}/revisions?limit=100`)).body.items;
export const listApprovals = async (castId: string): Promise<readonly Approval[]> => (await ask<Page<Approval>>('GET', `/casts/${castId}/approvals`)).body.items;
const filePath = (revisionId: string, name: string): string => `/revisions/${revisionId}/files/${name}`;
export const fileAddress = (revisionId: string, name: string): string => `/api/v1${filePath(revisionId, name)}`;
export const readJsonFile = async <T>(revisionId: string, name: string): Promise<T> => (await ask<T>('GET', filePath(revisionId, name))).body;
export const readBytesOf = async (revisionId: string, name: string, signal?: AbortSignal): Promise<ArrayBuffer> => (await askBytes(filePath(revisionId, name), { signal })).bytes;

export interface AskedRevision {
  readonly revisionId: string;
  readonly jobId: string | null;
  readonly state: ListedRevision['state'];
}

export const askRevision = async (castId: string, asked: { readonly decisions: Decisions; readonly rulesId?: string; readonly scanId?: string }): Promise<AskedRevision> =>
  (await ask<AskedRevision>('POST', `/casts/${castId}/revisions`, { body: asked })).body;
export const cancelJob = async (jobId: string): Promise<void> => void (await ask('POST', `/jobs/${jobId}/cancel`));

export const addOwnRules = async (castId: string, content: RuleSet): Promise<string> => (await ask<{ readonly rulesId: string }>('POST', `/casts/${castId}/rules`, { body: { content } })).body.rulesId;

export const sign = async (revision: RevisionRead, cast: Cast, verdict: Approval['verdict'], reason: string): Promise<Cast> =>
  (await ask<{ readonly cast: Cast }>('POST', `/revisions/${revision.id}/approval`, {
    ifMatch: `"${cast.version}"`, body: { verdict, fingerprint: revision.fingerprint, ...(reason.trim() !== '' && { reason: reason.trim() }) },
  })).body.cast;
