/** What the store of files refuses. */

/** More came than is taken. */
export class TooLarge extends Error {
  override readonly name = 'TooLarge';
}

/** What is stored is not what was put there. */
export class DamagedArtifact extends Error {
  override readonly name = 'DamagedArtifact';
}

/** There is no such file. */
export class NoSuchArtifact extends Error {
  override readonly name = 'NoSuchArtifact';
}

/** A part of an upload does not begin where the part before it ended. */
export class WrongOffset extends Error {
  override readonly name = 'WrongOffset';
  /** Bytes that are there. */
  readonly received: number;

  constructor(received: number) {
    super(`${received} bytes of this upload are there; the next part begins after them.`);
    this.received = received;
  }
}

/** What was said to be packed by gzip is not, or is cut short. */
export class NotPacked extends Error {
  override readonly name = 'NotPacked';
}

export const tooLarge = (maxBytes: number): TooLarge => new TooLarge(`More than ${maxBytes} bytes are not taken.`);
export const missing = (sha256: string): NoSuchArtifact => new NoSuchArtifact(`There is no file with the digest ${sha256}.`);
export const damaged = (sha256: string): DamagedArtifact => new DamagedArtifact(`The file with the digest ${sha256} is not what was stored. Put it back from a backup.`);
