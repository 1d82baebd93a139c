/** What the service answers where it cannot do what was asked (problem+json). */
export class ServerProblem extends Error {
  readonly status: number;
  readonly code: string;
  readonly remedy: string;
  /** By field, where the fault lies in what was sent. */
  readonly faults: readonly { readonly path: string; readonly message: string }[];
  readonly more: Readonly<Record<string, unknown>>;

  constructor(status: number, code: string, message: string, remedy: string, faults: ServerProblem['faults'] = [], more: ServerProblem['more'] = {}) {
    super(message);
    this.name = 'ServerProblem';
    this.status = status;
    this.code = code;
    this.remedy = remedy;
    this.faults = faults;
    this.more = more;
  }
}

/** The problem to show for anything that was thrown. */
export function problemOf(error: unknown): ServerProblem {
  if (error instanceof ServerProblem) return error;
  if (error instanceof TypeError) return new ServerProblem(0, 'no-answer', 'The service does not answer.', 'Look whether it still runs and whether this device is on the network. Nothing that you typed is lost.');
  return new ServerProblem(0, 'page-fault', `This page failed: ${error instanceof Error ? error.message : String(error)}`, 'Load the page again.');
}
