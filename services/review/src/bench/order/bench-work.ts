import { effect, signal } from '@preact/signals';
import { medialSign } from '@cast-to-last/foot/side';
import { GROUND } from '../../parts/geometry/calls.js';
import type { Ground, ShownBody } from '../../parts/geometry/calls.js';
import type { GeometryThread } from '../../parts/geometry/client.js';
import { FootStand } from '../scene/foot-stand.js';
import type { BodyName, Display } from '../scene/foot-stand.js';
import { Stage } from '../scene/stage.js';
import { readBytesOf } from '../../server/results.js';
import type { Comparison } from '../../server/comparisons.js';
import type { Cast, RevisionRead, Side } from '../../server/results.js';
import { listen } from '../../server/events.js';
import { ServerProblem, problemOf } from '../../server/problem.js';
import { Foot } from './foot.js';
import type { FootHost } from './foot.js';
import { sceneColours } from './scene-colours.js';
import { sectionOf, sections } from './section-state.js';
import { whatDraws } from './what-draws.js';

/** A place that was asked to be shown. */
export interface Place {
  readonly side: Side;
  readonly at: readonly [number, number, number];
  readonly word: string;
}

export interface Selected {
  readonly side: Side;
  readonly mark: string;
}

/** The files of a result that the bodies of a foot are read from. */
interface Source {
  readonly revisionId: string;
  readonly names: readonly string[];
  readonly abort: AbortSignal;
}

/** What stands on the bench now: the feet, the stage they are drawn on, and the thread that holds their meshes. */
export class BenchWork implements FootHost {
  readonly feet: readonly Foot[];
  readonly thread: GeometryThread;
  /** Null where there is no WebGL. */
  readonly stage = signal<Stage | null>(null);
  readonly webgl = signal(true);
  readonly display = signal<Display>({ body: 'cleaned', against: null, how: 'faded', amount: 0.5, change: false, rangeMm: 1, ground: true });
  /** What is drawn on and round the feet beside their surfaces. */
  readonly drawn = signal({ tapes: false, lengths: false, section: false, frame: false, footbed: false });
  /** The colours tell how the feet differ, not what smoothing changed. */
  readonly pairMap = signal(false);
  /** The last comparison of the two feet. */
  readonly comparison = signal<Comparison | null>(null);
  readonly selected = signal<Selected | null>(null);
  readonly place = signal<Place | null>(null);
  /** Goes up when the bodies of a side changed, so that what is drawn of them is drawn anew. */
  readonly bodies = signal<Readonly<Record<Side, number>>>({ left: 0, right: 0 });
  /** Bodies that are there at full detail, by side. */
  readonly full = signal<ReadonlySet<string>>(new Set());
  private readonly ends: (() => void)[] = [];
  private readonly loading = new Map<Side, AbortController>();

  /** @param thread stays open: who opened it closes it */
  constructor(casts: readonly Cast[], thread: GeometryThread) {
    this.thread = thread;
    this.feet = casts.map((cast) => new Foot(cast, this));
    this.ends.push(
      listen('job', (told) => this.feet.forEach((foot) => foot.hearJob(told)), () => this.feet.forEach((foot) => void foot.catchUp())),
      listen('cast', ({ castId, version }) => this.feet.forEach((foot) => castId === foot.cast.value.id && void foot.hearCast(version))),
      effect(() => {
        const display = this.display.value;
        for (const stand of this.stage.value?.stands.values() ?? []) stand.show(display);
        this.stage.value?.draw();
        for (const name of [display.body, display.against]) if (name !== null) for (const foot of this.feet) void this.needFull(foot, name);
      }),
    );
    for (const foot of this.feet) this.ends.push(effect(() => void this.layGround(foot)));
  }

  foot = (side: Side): Foot | undefined => this.feet.find((foot) => foot.side === side);

  /** Lays the movable section where a girth's tape lies on the body that is shown, on each foot at its own. */
  layAt(id: string): void {
    const on = this.display.value.body === 'last' ? 'last' : 'cast';
    for (const { side, sheet } of this.feet) {
      const station = sheet.value?.drawn.stations.find((s) => s.id === id && s.on === on);
      const at = station === undefined ? null : sectionOf(station.line, medialSign(side));
      if (at !== null) sections.value = { ...sections.value, [side]: at };
    }
  }

  /** Begins to draw into a canvas, where the browser can. */
  drawInto(canvas: HTMLCanvasElement): void {
    const by = whatDraws();
    if (by === null) {
      this.webgl.value = false;
      return;
    }
    try {
      const stage = new Stage(canvas, by === 'software');
      stage.paint(sceneColours());
      // A cast that waits for its scan takes no room.
      for (const { side, cast } of this.feet) if (cast.value.currentRevisionId !== null) this.standOf(stage, side);
      this.stage.value = stage;
      const dark = matchMedia('(prefers-color-scheme: dark)');
      const repaint = (): void => {
        stage.paint(sceneColours());
        this.bodies.value = { left: this.bodies.value.left + 1, right: this.bodies.value.right + 1 };
      };
      dark.addEventListener('change', repaint);
      this.ends.push(() => dark.removeEventListener('change', repaint));
    } catch {
      this.webgl.value = false;
    }
  }

  /** Where the bodies of a side stand, made room for when the first comes. */
  private standOf(stage: Stage, side: Side): FootStand {
    const there = stage.stands.get(side);
    if (there !== undefined) return there;
    const stand = new FootStand(side);
    stand.paint(sceneColours());
    stand.show(this.display.peek());
    stage.add(stand);
    return stand;
  }

  /** The browser's drawing ended under our hands: pictures of the service take its place. */
  lostDrawing(): void {
    const stage = this.stage.peek();
    if (stage === null) return;
    this.stage.value = null;
    this.webgl.value = false;
    stage.close();
  }

  showResult(foot: Foot, revision: RevisionRead): void {
    void this.load(foot, revision.id, revision.files.map(({ name }) => name)).catch((error: unknown) => this.failed(foot, error));
  }

  async showPreview(foot: Foot, revisionId: string, names: readonly string[]): Promise<void> {
    const source = this.sources.get(foot.side);
    if (source?.revisionId === revisionId) await this.bring(foot, { ...source, names }, source.names);
    else await this.load(foot, revisionId, names, () => void performance.measure(`preview-${foot.side}`, `decided-${foot.side}`));
    if (names.includes('view-cleaned.glb') && this.full.value.has(`${foot.side}:cleaned`)) performance.measure(`preview-full-${foot.side}`, `decided-${foot.side}`);
  }

  private failed(foot: Foot, error: unknown): void {
    if (!(error instanceof DOMException && error.name === 'AbortError')) foot.problem.value ??= problemOf(error);
  }

  /** The light level first, then the cleaned cast at full detail, then what is shown; the rest when it is asked for. */
  private async load(foot: Foot, revisionId: string, names: readonly string[], shown?: () => void): Promise<void> {
    this.loading.get(foot.side)?.abort();
    const control = new AbortController();
    this.loading.set(foot.side, control);
    const { signal: abort } = control;
    if (!names.includes('view-light.glb')) throw new ServerProblem(0, 'no-view-files', `The result of the ${foot.side} cast was made by an earlier version and has no files to look at.`, 'Let the cast be made again: change a decision and take it back.');
    const changed = await this.take(foot.side, 'light', await readBytesOf(revisionId, 'view-light.glb', abort), shown);
    const before = this.sources.get(foot.side);
    await this.bring(foot, { revisionId, names, abort }, [...(before?.revisionId === revisionId ? before.names : []), ...(changed.has('scan') ? [] : ['view-scan.glb'])]);
  }

  /** Has bodies of a result at full detail. What its files leave out, as those of a preview do, stays as it is, and so do those that are `known`. */
  private async bring(foot: Foot, source: Source, known: readonly string[]): Promise<void> {
    this.sources.set(foot.side, source);
    const has = (key: string, files: readonly string[]): boolean => files.includes(`view-${key.split(':')[1]}.glb`);
    this.full.value = new Set([...this.full.value].filter((key) => !key.startsWith(`${foot.side}:`) || !has(key, source.names) || has(key, known)));
    await this.needFull(foot, 'cleaned');
    const { body, against } = this.display.value;
    for (const name of [body, against]) if (name !== null) await this.needFull(foot, name);
  }

  private readonly sources = new Map<Side, Source>();
  private readonly coming = new Map<string, Promise<void>>();

  /** Has a body at full detail, once for each result. */
  async needFull(foot: Foot, name: BodyName): Promise<void> {
    const source = this.sources.get(foot.side);
    const key = `${foot.side}:${name}`;
    if (source === undefined || this.full.value.has(key) || !source.names.includes(`view-${name}.glb`)) return;
    const once = `${key}:${source.revisionId}`;
    let coming = this.coming.get(once);
    if (coming === undefined) {
      coming = readBytesOf(source.revisionId, `view-${name}.glb`, source.abort).then(async (bytes) => {
        if (source.abort.aborted) return;
        await this.take(foot.side, 'full', bytes);
        this.full.value = new Set([...this.full.value, key]);
      });
      this.coming.set(once, coming);
      coming.finally(() => this.coming.delete(once)).catch(() => undefined);
    }
    await coming.catch((error: unknown) => this.failed(foot, error));
  }

  private async take(side: Side, level: 'light' | 'full', bytes: ArrayBuffer, shown?: () => void): Promise<ReadonlySet<BodyName>> {
    const bodies: ShownBody[] = await this.thread.ask('unpack', { bytes, side, keep: level === 'full' }, [bytes]);
    const stage = this.stage.value;
    if (stage === null) return new Set();
    const stand = this.standOf(stage, side);
    const changed = new Set(bodies.filter((body) => stand.set(level, body)).map(({ name }) => name));
    if (changed.size > 0) this.bodies.value = { ...this.bodies.value, [side]: this.bodies.value[side] + 1 };
    stage.draw();
    if (level === 'light') {
      requestAnimationFrame(() => {
        performance.mark(`shown-${side}`);
        shown?.();
      });
    }
    return changed;
  }

  /** Colours the ground of marks and patches on every level that is there. */
  private async layGround(foot: Foot): Promise<void> {
    void this.bodies.value[foot.side];
    const marks = foot.marks.value;
    const points = foot.sheet.value?.drawn.markPoints ?? {};
    const { patches } = foot.decisions.value;
    const chosen = this.selected.value;
    const stage = this.stage.peek();
    const stand = stage?.stands.get(foot.side);
    if (stand === undefined) return;
    const grounds: Ground[] = [
      ...marks.map(({ id, now, centre }): Ground => ({ code: GROUND[now], points: Float32Array.from(points[id] ?? centre), radius: chosen?.mark === id && chosen.side === foot.side ? 2.2 : 1.6 })),
      ...patches.map(({ centre, radiusMm, decision }): Ground => ({ code: decision === 'protect' ? GROUND.protect : GROUND.patch, points: Float32Array.from(centre), radius: radiusMm })),
    ];
    for (const name of ['scan', 'cleaned'] as const) {
      for (const level of ['light', 'full'] as const) {
        const geometry = stand.geometry(name, level);
        if (geometry === null) continue;
        stand.lay(name, level, await this.thread.ask('ground', { positions: geometry.getAttribute('position').array as Float32Array, grounds }));
      }
    }
    stage?.draw();
  }

  close(): void {
    for (const end of this.ends) end();
    for (const control of this.loading.values()) control.abort();
    const stage = this.stage.peek();
    this.stage.value = null;
    stage?.close();
  }
}
