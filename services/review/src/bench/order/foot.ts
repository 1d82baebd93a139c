import { batch, computed, signal } from '@preact/signals';
import type { Signal } from '@preact/signals';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { Report, ReportedMark } from '@cast-to-last/pipeline/report';
import { ServerProblem, problemOf } from '../../server/problem.js';
import type { JobTold } from '../../server/events.js';
import { askRevision, cancelJob, readCast, readJsonFile, readRevision } from '../../server/results.js';
import type { Cast, RevisionRead, SheetFile, Side } from '../../server/results.js';

export const NO_DECISIONS: Decisions = { marks: [], patches: [] };

/** A result that was asked for and is not whole yet. */
export interface Making {
  readonly revisionId: string;
  readonly jobId: string | null;
  readonly stage: string | null;
  readonly done: number | null;
  readonly of: number | null;
  /** Whether its cleaned cast is shown already. */
  readonly previewed: boolean;
}

/** What a result is asked for by. */
export interface Asked {
  readonly decisions: Decisions;
  readonly rulesId: string | undefined;
}

/** What is shown of a foot is told to whoever draws it. */
export interface FootHost {
  /** The bodies of a revision, all that its files hold. */
  showResult(foot: Foot, revision: RevisionRead): void;
  /** The cleaned cast of one that is being made. */
  showPreview(foot: Foot, revisionId: string): Promise<void>;
}

/** One foot of an order on the bench: its cast, the result that is shown, what was decided and what is being made of that. */
export class Foot {
  readonly side: Side;
  readonly cast = signal<Cast>(null as unknown as Cast);
  readonly revision = signal<RevisionRead | null>(null);
  readonly report = signal<Report | null>(null);
  readonly sheet = signal<SheetFile | null>(null);
  readonly decisions = signal<Decisions>(NO_DECISIONS);
  readonly making = signal<Making | null>(null);
  readonly problem = signal<ServerProblem | null>(null);
  /** Another result became the current one by someone else's hand. */
  readonly news = signal<string | null>(null);
  readonly undos = signal<readonly Asked[]>([]);
  readonly redos = signal<readonly Asked[]>([]);
  readonly marks = computed(() => sortedMarks(this.report.value?.marks ?? [], this.decisions.value));
  private readonly host: FootHost;
  private sending = false;
  private again = false;
  private rulesId: string | undefined;

  constructor(cast: Cast, host: FootHost) {
    this.side = cast.side;
    this.host = host;
    this.cast.value = cast;
  }

  /** Reads the current result, or the one that is made now. */
  async open(): Promise<void> {
    const { currentRevisionId } = this.cast.value;
    if (currentRevisionId === null) return;
    await this.show(currentRevisionId, true);
  }

  /** Shows a result; `takes`: its decisions are those that are gone on from. */
  async show(revisionId: string, takes: boolean): Promise<void> {
    try {
      const revision = await readRevision(revisionId);
      if (revision.state !== 'done') {
        this.problem.value = stopOf(revision);
        return;
      }
      this.host.showResult(this, revision);
      const [report, sheet] = await Promise.all([
        readJsonFile<Report>(revisionId, 'report.json'),
        revision.files.some(({ name }) => name === 'sheet.json') ? readJsonFile<SheetFile>(revisionId, 'sheet.json') : null,
      ]);
      batch(() => {
        this.revision.value = revision;
        this.report.value = report;
        this.sheet.value = sheet;
        if (takes) {
          this.rulesId = revision.rulesId;
          this.decisions.value = revision.decisions;
        }
        this.news.value = null;
      });
    } catch (error) {
      this.problem.value = problemOf(error);
    }
  }

  /** Decides anew; what was decided before can be had back. */
  decide(decisions: Decisions): void {
    this.ask({ decisions, rulesId: this.rulesId });
  }

  /** From now on by other rules; the decisions stay. */
  takeRules(rulesId: string): void {
    this.ask({ decisions: this.decisions.value, rulesId });
  }

  /** Makes the result that is shown the current one again, with its decisions and its rules. */
  goBack(): void {
    const { value: shown } = this.revision;
    if (shown !== null) this.ask({ decisions: shown.decisions, rulesId: shown.rulesId });
  }

  undo(): void {
    this.turn(this.undos, this.redos);
  }

  redo(): void {
    this.turn(this.redos, this.undos);
  }

  private ask(asked: Asked): void {
    batch(() => {
      this.undos.value = [...this.undos.value, { decisions: this.decisions.value, rulesId: this.rulesId }];
      this.redos.value = [];
      this.decisions.value = asked.decisions;
      this.rulesId = asked.rulesId;
    });
    void this.send();
  }

  private turn(from: Signal<readonly Asked[]>, to: Signal<readonly Asked[]>): void {
    const wanted = from.value.at(-1);
    if (wanted === undefined) return;
    batch(() => {
      to.value = [...to.value, { decisions: this.decisions.value, rulesId: this.rulesId }];
      from.value = from.value.slice(0, -1);
      this.decisions.value = wanted.decisions;
      this.rulesId = wanted.rulesId;
    });
    void this.send();
  }

  /** Asks for the result of what is decided now. What is decided while that is on its way is asked for after it. */
  private async send(): Promise<void> {
    if (this.sending) {
      this.again = true;
      return;
    }
    this.sending = true;
    performance.mark(`decided-${this.side}`);
    try {
      do {
        this.again = false;
        const asked = await askRevision(this.cast.value.id, { decisions: this.decisions.value, ...(this.rulesId !== undefined && { rulesId: this.rulesId }) });
        this.problem.value = null;
        await this.follow(asked.revisionId, asked.jobId, asked.state);
      } while (this.again);
    } catch (error) {
      this.problem.value = problemOf(error);
    } finally {
      this.sending = false;
    }
  }

  private async follow(revisionId: string, jobId: string | null, state: RevisionRead['state']): Promise<void> {
    const before = this.making.value;
    if (before !== null && before.revisionId !== revisionId && before.jobId !== null) void cancelJob(before.jobId).catch(() => undefined);
    if (state === 'done') {
      this.making.value = null;
      await this.show(revisionId, false);
      performance.measure(`result-${this.side}`, `decided-${this.side}`);
      await this.readCast();
    } else if (before?.revisionId !== revisionId) {
      this.making.value = { revisionId, jobId, stage: null, done: null, of: null, previewed: false };
    }
  }

  /** What the service tells of jobs on this cast. */
  hearJob(told: JobTold): void {
    if (told.castId !== this.cast.value.id) return;
    const { making } = this;
    if (making.value === null || making.value.revisionId !== told.revisionId) return;
    if (told.preview.includes('view-cleaned.glb') && !making.value.previewed) {
      making.value = { ...making.value, previewed: true };
      void this.host.showPreview(this, told.revisionId).catch(() => undefined);
    }
    if (told.state === 'waiting' || told.state === 'running') making.value = { ...making.value, stage: told.stage, done: told.done, of: told.of };
    else if (told.state === 'done') {
      making.value = null;
      void this.show(told.revisionId, false).then(() => this.readCast());
    } else if (told.state !== 'cancelled') {
      making.value = null;
      void this.stopped(told.revisionId);
    }
  }

  private async stopped(revisionId: string): Promise<void> {
    this.problem.value = stopOf(await readRevision(revisionId));
    await this.readCast();
  }

  async readCast(): Promise<void> {
    this.cast.value = await readCast(this.cast.value.id);
  }

  /** What the service tells of the cast itself: others may have changed it. */
  async hearCast(version: number): Promise<void> {
    if (version <= this.cast.value.version) return;
    await this.readCast();
    const { currentRevisionId } = this.cast.value;
    const shown = this.revision.value?.id ?? null;
    if (currentRevisionId === null || currentRevisionId === shown || this.making.value !== null || this.sending) return;
    if (shown === null) await this.show(currentRevisionId, true);
    else this.news.value = currentRevisionId;
  }
}

/** Why there is no result; null while it is still made. */
function stopOf({ state, refusal }: RevisionRead): ServerProblem | null {
  if (state === 'waiting' || state === 'done') return null;
  if (refusal !== null) return new ServerProblem(0, refusal.code, refusal.message, refusal.remedy);
  return new ServerProblem(0, state, `The work on this result ended without one (${state}).`, 'Decide again to have it made anew; the queue says what happened.');
}

export interface DecidedMark extends ReportedMark {
  /** Its number in the report, from 1: the same on the sheet. */
  readonly number: number;
  /** What the maker said of it, whether or not the result has it yet. */
  readonly word: Decisions['marks'][number] | null;
  readonly now: ReportedMark['decision'];
}

/** What asks comes first, then what is deepest. */
function sortedMarks(marks: readonly ReportedMark[], { marks: words }: Decisions): readonly DecidedMark[] {
  const rank = { ask: 0, smooth: 1, keep: 2 } as const;
  return marks
    .map((mark, i): DecidedMark => {
      const word = words.find(({ id }) => id === mark.id) ?? null;
      return { ...mark, number: i + 1, word, now: word?.decision ?? mark.decision };
    })
    .sort((a, b) => rank[a.now] - rank[b.now] || Math.abs(b.depth) - Math.abs(a.depth));
}

/** The decisions with another word on one mark. */
export function decideMark(decisions: Decisions, mark: ReportedMark, decision: 'smooth' | 'keep', note?: string): Decisions {
  const before = decisions.marks.find(({ id }) => id === mark.id);
  const said = note ?? before?.note;
  return { ...decisions, marks: [...decisions.marks.filter(({ id }) => id !== mark.id), { id: mark.id, centre: [...mark.centre], decision, ...(said !== undefined && said !== '' && { note: said }) }] };
}
