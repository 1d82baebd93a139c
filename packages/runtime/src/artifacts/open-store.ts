import { join } from 'node:path';
import type { Config } from '../config.js';
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
export async function openStore({ dataFolder }: StoreConfig): Promise<Store> {
  const folder = join(dataFolder, 'files');
  const blobs = await openFolderBlobs(folder);
  return { blobs, artifacts: await openArtifacts(blobs, join(folder, UNFINISHED)) };
}
