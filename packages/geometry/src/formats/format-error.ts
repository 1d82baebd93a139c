/** Why bytes could not become a mesh. Kebab-case and stable: programs above map each one to what a person can do. */
export type MeshFormatCode =
  | 'empty-file'
  | 'not-a-mesh-file'
  | 'truncated-file'
  | 'count-mismatch'
  | 'malformed-file'
  | 'unsupported-content'
  | 'coordinates-not-finite'
  | 'no-triangles'
  | 'point-cloud'
  | 'bad-vertex-index'
  | 'too-many-triangles';

/** Bytes that are not a usable mesh file. The message is one full sentence about the file. */
export class MeshFormatError extends Error {
  override readonly name = 'MeshFormatError';
  readonly code: MeshFormatCode;

  constructor(code: MeshFormatCode, problem: string) {
    super(problem);
    this.code = code;
  }
}
