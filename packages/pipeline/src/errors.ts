/**
 * A refusal: this scan, order or rule file cannot go on, for a reason that the person at the bench can act on.
 * A finding is data; a fault (a defect of the program or the machine) is any other exception.
 */
export class CastError extends Error {
  override readonly name = 'CastError';
  /** Stable, kebab-case, documented in DEVELOPERS.md. */
  readonly code: string;
  /** What to do about it, one sentence. */
  readonly remedy: string;

  constructor(code: string, problem: string, remedy: string) {
    super(`${problem} ${remedy}`);
    this.code = code;
    this.remedy = remedy;
  }
}
