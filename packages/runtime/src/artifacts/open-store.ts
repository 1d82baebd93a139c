import { join } from 'node:path';
import type { Config, ObjectStoreConfig } from '../config.js';
import { openArtifacts } from './artifacts.js';
import type { Artifacts } from './artifacts.js';
import type { Blobs } from './blobs.js';
import { UNFINISHED, openFolderBlobs } from './folder-blobs.js';

/** Where the settings put files. */
export type StoreConfig = Pick<Config, 'dataFolder' | 'objectStore'>;

export interface Store {
  readonly blobs: Blobs;
  readonly artifacts: Artifacts;
}

/** Opens the store of files that the settings name. */
export async function openStore({ dataFolder, objectStore }: StoreConfig): Promise<Store> {
  const folder = join(dataFolder, 'files');
  const blobs = objectStore === null ? await openFolderBlobs(folder) : await objectStoreBlobs(objectStore);
  return { blobs, artifacts: await openArtifacts(blobs, join(folder, UNFINISHED)) };
}

/** What speaks to an object store takes a tenth of a second to load, so a program that has none does not load it. */
async function objectStoreBlobs(config: ObjectStoreConfig): Promise<Blobs> {
  const { openObjectStoreBlobs } = await import('./object-store-blobs.js');
  return openObjectStoreBlobs(config);
}
