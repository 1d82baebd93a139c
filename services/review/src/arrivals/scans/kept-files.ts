import type { Upload } from './uploads.js';

/** Scans on their way, kept in this browser until they are there or given up, so that a reload of the page loses none. */

interface Kept {
  readonly key: string;
  readonly upload: Upload;
  readonly file: File | undefined;
}

const STORE = 'uploads';

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open('scans-on-their-way', 1);
    asked.onupgradeneeded = () => void asked.result.createObjectStore(STORE, { keyPath: 'key' });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

async function within<T>(mode: IDBTransactionMode, run: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const db = await open();
  try {
    return await new Promise((resolve, reject) => {
      const asked = run(db.transaction(STORE, mode).objectStore(STORE));
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error);
    });
  } finally {
    db.close();
  }
}

/** A browser without room, or without such a store, asks for the file again after a reload. */
export async function keep(upload: Upload, file: File | undefined): Promise<void> {
  await within('readwrite', (store) => store.put({ key: upload.key, upload, file } satisfies Kept)).catch(() => undefined);
}

export async function dropKept(key: string): Promise<void> {
  await within('readwrite', (store) => store.delete(key)).catch(() => undefined);
}

export async function keptUploads(): Promise<readonly Kept[]> {
  return within('readonly', (store) => store.getAll() as IDBRequest<Kept[]>).catch(() => []);
}
