import { signal } from '@preact/signals';
import type { Side } from '@cast-to-last/foot/side';
import type { LengthUnit, ScanKind } from '@cast-to-last/pipeline/records';
import { forgetAtSignOut } from '../../parts/forget.js';
import { ask } from '../../server/ask.js';
import type { ServerProblem } from '../../server/problem.js';
import { session } from '../../server/session.js';
import { dropKept, keep, keptUploads } from './kept-files.js';

/** What is told of a scan beside its bytes. */
export interface Particulars {
  readonly kind: ScanKind;
  readonly unit: LengthUnit | 'auto';
  readonly wallMm?: number;
  readonly scannerId?: string;
}

export interface SideGuess {
  readonly side: Side | null;
  readonly sure: boolean;
  readonly why: string;
}

export interface Upload {
  /** Of this browser. */
  readonly key: string;
  readonly personId: string;
  readonly orderId: string;
  /** The cast that it is a scan of; null where its shape shall tell. */
  readonly castId: string | null;
  readonly fileName: string;
  readonly size: number;
  readonly particulars: Particulars;
  /** The service's id, once it is begun. */
  readonly id: string | null;
  readonly received: number;
  readonly state: 'reading' | 'sending' | 'paused' | 'no-line' | 'asking' | 'which-side' | 'finishing' | 'stopped' | 'done';
  readonly guess: SideGuess | null;
  readonly problem: ServerProblem | null;
  /** Told at its end. */
  readonly told: string | null;
}

/** Every upload of this browser that is not put away; they go on whatever page is looked at. */
export const uploads = signal<readonly Upload[]>([]);
export const files = new Map<string, File>();

export const uploadOf = (key: string): Upload | undefined => uploads.value.find((upload) => upload.key === key);

/** What has to outlive a reload of the page. */
const LASTING: readonly (keyof Upload)[] = ['id', 'castId'];

export function change(key: string, fields: Partial<Upload>): void {
  uploads.value = uploads.value.map((upload) => (upload.key === key ? { ...upload, ...fields } : upload));
  const upload = uploadOf(key);
  if (fields.state === 'done') void dropKept(key);
  else if (upload !== undefined && LASTING.some((name) => name in fields)) void keep(upload, files.get(key));
}

export function add(orderId: string, castId: string | null, file: File, particulars: Particulars): Upload {
  const upload: Upload = {
    key: `${Date.now()}-${Math.round(Math.random() * 1e9)}`, personId: session.value?.person.id ?? '', orderId, castId, fileName: file.name, size: file.size, particulars,
    id: null, received: 0, state: 'reading', guess: null, problem: null, told: null,
  };
  files.set(upload.key, file);
  uploads.value = [...uploads.value, upload];
  void keep(upload, file);
  return upload;
}

export function putAway(key: string): void {
  uploads.value = uploads.value.filter((upload) => upload.key !== key);
  files.delete(key);
  void dropKept(key);
}

/** Gives an upload up, here and at the service. */
export async function giveUp(key: string): Promise<void> {
  const upload = uploadOf(key);
  putAway(key);
  if (upload?.id != null && upload.state !== 'done') await ask('DELETE', `/uploads/${upload.id}`).catch(() => undefined);
}

/** Uploads that a reload of the page interrupted, of the one who is signed in. */
export async function takeUpAgain(): Promise<readonly Upload[]> {
  const mine = (await keptUploads()).filter(({ upload }) => upload.personId === session.value?.person.id && uploadOf(upload.key) === undefined);
  for (const { upload, file } of mine) if (file !== undefined) files.set(upload.key, file);
  const again = mine.map(({ upload, file }): Upload => ({ ...upload, state: file === undefined ? 'paused' : 'sending', problem: null }));
  uploads.value = [...uploads.value, ...again];
  return again;
}

forgetAtSignOut(() => {
  for (const { key } of uploads.value) putAway(key);
  files.clear();
});
