/** Scans beyond this are not read whole only to be hashed; bytes. */
const MOST_BYTES = 256e6;

/** SHA-256 of a file in hex; null where the browser has none to give: on a plain http address, or for very large files. */
export async function digestOf(file: File): Promise<string | null> {
  if (!isSecureContext || file.size > MOST_BYTES) return null;
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', await file.arrayBuffer()));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
