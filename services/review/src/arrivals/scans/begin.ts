import { send } from './send.js';
import { add } from './uploads.js';
import type { Particulars } from './uploads.js';

export const SCAN_FILES = '.stl,.ply,.obj';

/** Begins to upload scans of an order, of a cast of it where that is known. */
export function upload(orderId: string, castId: string | null, chosen: Iterable<File>, particulars: Particulars): void {
  for (const file of chosen) void send(add(orderId, castId, file, particulars).key);
}
