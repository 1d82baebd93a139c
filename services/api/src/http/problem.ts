/** What is answered instead of what was asked for: RFC 9457, with a code that stays and what to do about it. */
export class Problem extends Error {
  override readonly name = 'Problem';
  readonly status: number;
  readonly code: string;
  readonly remedy: string;
  /** Further members of the answer. */
  readonly more: Readonly<Record<string, unknown>>;
  readonly headers: Readonly<Record<string, string>>;

  constructor(status: number, code: string, detail: string, remedy: string, { more = {}, headers = {} }: { more?: Record<string, unknown>; headers?: Record<string, string> } = {}) {
    super(detail);
    this.status = status;
    this.code = code;
    this.remedy = remedy;
    this.more = more;
    this.headers = headers;
  }
}

export const notFound = (what: string): Problem => new Problem(404, 'not-found', `There is no such ${what}.`, 'Look for it in the list; it may have been erased.');

/** `current` is the entity as it stands now. */
export const stale = (what: string, current: unknown): Problem =>
  new Problem(412, 'changed-meanwhile', `The ${what} was changed since it was read.`, 'Look at it as it stands now and decide again.', { more: { current } });

export const conflict = (code: string, detail: string, remedy: string, more: Record<string, unknown> = {}): Problem => new Problem(409, code, detail, remedy, { more });

/** One thing that is wrong with what was sent. */
export interface Fault {
  readonly path: string;
  readonly message: string;
}

export const unusable = (faults: readonly Fault[]): Problem =>
  new Problem(422, 'bad-request', `What was sent cannot be used: ${faults.map(({ path, message }) => (path === '' ? message : `${path}: ${message}`)).join('; ')}.`, 'Mend it and send it again.', { more: { faults } });
