/**
 * A refusal: this scan, order or rule file cannot go on, for a reason that the person at the bench can act on.
 * A finding is data; a fault (a defect of the program or the machine) is any other exception.
 */
export class CastError extends Error {
  override readonly name = 'CastError';
  /** Stable, kebab-case, documented in DEVELOPERS.md. */
  readonly code: string;
  /** What is wrong, one or two sentences; the message is this and the remedy. */
  readonly problem: string;
  /** What to do about it, one sentence. */
  readonly remedy: string;
  /** By key, where a file of a person's making cannot be used; empty otherwise. */
  readonly faults: readonly KeyFault[];

  constructor(code: string, problem: string, remedy: string, faults: readonly KeyFault[] = []) {
    super(`${problem} ${remedy}`);
    this.code = code;
    this.problem = problem;
    this.remedy = remedy;
    this.faults = faults;
  }
}

/** What is wrong with one key of a file. */
export interface KeyFault {
  /** As a person writes it: marks.protect[0].radiusMm. */
  readonly path: string;
  readonly message: string;
}
