import { batch, computed, signal } from '@preact/signals';
import type { Signal } from '@preact/signals';
import type { Decisions } from '@cast-to-last/pipeline/decisions';
import type { Report } from '@cast-to-last/pipeline/report/report';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import type { JobTold } from '../../server/events.js';
import { askRevision, cancelJob, listRevisions, readCast, readJsonFile, readRevision } from '../../server/results.js';
import type { Cast, RevisionRead, SheetFile, Side } from '../../server/results.js';
import { sortedMarks } from './decided-marks.js';
import { stopOf } from './stop-of.js';

const NO_DECISIONS: Decisions = { marks: [], patches: [] };

/** A result that was asked for and is not whole yet. */
export interface Making {
  readonly revisionId: string;
  readonly jobId: string | null;
  readonly stage: string | null;
  readonly done: number | null;
  readonly of: number | null;
  /** How many files of its preview are shown already. */
  readonly previewed: number;
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
  /** The cleaned cast of one that is being made: its light file, and later the one at full detail. */
  showPreview(foot: Foot, revisionId: string, names: readonly string[]): Promise<void>;
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

  /** Reads the current result, and what is being made beside it. */
  async open(): Promise<void> {
    const { currentRevisionId, state } = this.cast.value;
    if (currentRevisionId !== null) await this.show(currentRevisionId, true);
    if (state === 'in-work') await this.joinWork();
  }

  /** Goes on from what someone asked for before this page was opened. */
  private async joinWork(): Promise<void> {
    try {
      const newest = (await listRevisions(this.cast.value.id)).find(({ state, origin }) => state === 'waiting' && origin === 'person');
      if (newest === undefined || this.making.value !== null) return;
      const { id, decisions, rulesId, job } = await readRevision(newest.id);
      batch(() => {
        this.decisions.value = decisions;
        this.rulesId = rulesId;
        this.making.value = { revisionId: id, jobId: job?.id ?? null, stage: job?.stage ?? null, done: job?.done ?? null, of: job?.of ?? null, previewed: 0 };
      });
    } catch (error) {
      this.problem.value = problemOf(error);
    }
  }

  /** After news may have been missed. */
  async catchUp(): Promise<void> {
    try {
      await this.readCast();
      const waited = this.making.value;
      if (waited === null) return;
      const revision = await readRevision(waited.revisionId);
      if (revision.state === 'waiting' || this.making.value?.revisionId !== waited.revisionId) return;
      this.making.value = null;
      if (revision.state === 'done') await this.show(revision.id, false);
      else this.problem.value = stopOf(revision);
    } catch (error) {
      this.problem.value = problemOf(error);
    }
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
      this.making.value = { revisionId, jobId, stage: null, done: null, of: null, previewed: 0 };
    }
  }

  /** What the service tells of jobs. */
  hearJob(told: JobTold): void {
    const { making } = this;
    if (making.value?.revisionId !== told.revisionId) return;
    if (told.preview.length > making.value.previewed) {
      making.value = { ...making.value, previewed: told.preview.length };
      void this.host.showPreview(this, told.revisionId, told.preview).catch(() => undefined);
    }
    if (told.state === 'waiting' || told.state === 'running') making.value = { ...making.value, stage: told.stage, done: told.done, of: told.of };
    else if (told.state === 'done') {
      making.value = null;
      void this.show(told.revisionId, false).then(() => this.readCast());
    } else if (told.state !== 'cancelled') void this.catchUp();
  }

  async readCast(): Promise<void> {
    const read = await readCast(this.cast.value.id);
    // An answer that was overtaken by a later one is none.
    if (read.version >= this.cast.value.version) this.cast.value = read;
  }

  /** What the service tells of the cast itself: others may have changed it. */
  async hearCast(version: number): Promise<void> {
    if (version <= this.cast.value.version) return;
    await this.readCast();
    const { currentRevisionId } = this.cast.value;
    const shown = this.revision.value?.id ?? null;
    if (currentRevisionId === null || currentRevisionId === shown || this.making.value !== null || this.sending) return;
    if (shown !== null) this.news.value = currentRevisionId;
    else await this.show(currentRevisionId, true);
  }
}
