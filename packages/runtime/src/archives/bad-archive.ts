/** An archive that cannot be used; no row of it was taken over. */
export class BadArchive extends Error {
  override readonly name = 'BadArchive';
}
