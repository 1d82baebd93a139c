import type { ComponentChildren } from 'preact';
import type { BufferGeometry } from 'three';
import { useEffect, useRef, useState } from 'preact/hooks';
import { look } from '../../app/look.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import { ProblemBox } from '../problem-box.js';
import type { Showing, SurfaceStage, View } from './surface-stage.js';
import './two-surfaces.css';

export interface TwoSurfacesProps {
  /** Read again where this changes. */
  readonly of: string;
  /** The two at full detail; a coarse level that comes sooner is told to `early`. */
  readonly read: (signal: AbortSignal, early: (bodies: readonly [BufferGeometry, BufferGeometry]) => void) => Promise<readonly [BufferGeometry, BufferGeometry]>;
  /** What the two are called: before and after, left and right. */
  readonly names: readonly [string, string];
  readonly side: 'left' | 'right';
  /** Shown where the browser draws nothing in 3D: what the service has drawn. */
  readonly instead: ComponentChildren;
  readonly showings?: readonly Showing[];
  /** Below the picture: a legend. */
  readonly children?: ComponentChildren;
}

const WORDS: Readonly<Record<Showing, string>> = { wipe: 'Wipe', beside: 'Side by side', within: 'One in the other', first: 'The first alone' };
const ALL: readonly Showing[] = ['wipe', 'beside', 'within'];

/** The standard views by key; inner and outer side lie on other hands on a left and a right foot. */
const viewsOf = (side: 'left' | 'right'): readonly (readonly [string, string, View])[] => [
  ['1', 'Outer side', side === 'right' ? 'right' : 'left'], ['2', 'Inner side', side === 'right' ? 'left' : 'right'], ['3', 'Sole', 'below'], ['4', 'From above', 'above'], ['5', 'Heel', 'behind'], ['6', 'Toes', 'front'],
];

/** Paints the bodies by the tokens of the look that holds. */
function paint(stage: SurfaceStage | null): void {
  const css = getComputedStyle(document.documentElement);
  stage?.paint({ ground: css.getPropertyValue('--scene'), first: css.getPropertyValue('--beech'), second: css.getPropertyValue('--plaster') });
}

/** Two surfaces in 3D, wiped, beside or within each other. Dragging turns them, the wheel brings them nearer. */
export function TwoSurfaces({ of, read, names, side, instead, showings = ALL, children }: TwoSurfacesProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const stage = useRef<SurfaceStage | null>(null);
  const [state, setState] = useState<'opening' | 'reading' | 'shown' | 'no-3d'>('opening');
  const [whole, setWhole] = useState(false);
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [showing, setShowing] = useState<Showing>(showings[0]);
  const [wipeAt, setWipeAt] = useState(50);
  const views = viewsOf(side);

  // What draws is fetched where something is drawn, and not with the page.
  useEffect(() => {
    let open = true;
    const dark = matchMedia('(prefers-color-scheme: dark)');
    const repaint = (): void => paint(stage.current);
    dark.addEventListener('change', repaint);
    const unlook = look.subscribe(() => void setTimeout(repaint));
    void import('./surface-stage.js').then(({ openSurfaceStage }) => {
      if (!open || canvas.current === null) return;
      try {
        stage.current = openSurfaceStage(canvas.current);
        setState('reading');
      } catch {
        setState('no-3d');
      }
    }, (error: unknown) => setProblem(problemOf(error)));
    return () => {
      open = false;
      dark.removeEventListener('change', repaint);
      unlook();
      stage.current?.close();
      stage.current = null;
    };
  }, []);

  const ready = state !== 'opening' && state !== 'no-3d';
  useEffect(() => {
    const { current } = stage;
    if (!ready || current === null) return undefined;
    const stop = new AbortController();
    setState('reading');
    setWhole(false);
    setProblem(null);
    let turned = false;
    const put = ([first, second]: readonly [BufferGeometry, BufferGeometry]): void => {
      if (stop.signal.aborted) return;
      current.put(first, second);
      paint(current);
      // What was turned while the coarse level was shown stays as it is.
      if (!turned) current.look(views[0][2]);
      turned = true;
      setState('shown');
    };
    read(stop.signal, put).then(
      (bodies) => {
        put(bodies);
        setWhole(true);
      },
      (error: unknown) => !stop.signal.aborted && setProblem(problemOf(error)),
    );
    return () => stop.abort();
  }, [of, ready]);

  useEffect(() => stage.current?.show(showing, wipeAt / 100), [showing, wipeAt, state]);

  const onKey = (event: KeyboardEvent): void => {
    const view = views.find(([key]) => key === event.key);
    if (view !== undefined) stage.current?.look(view[2]);
  };
  if (state === 'no-3d') return <div class="two-surfaces" data-state={state}>{instead}</div>;
  return (
    <div class="two-surfaces" data-state={state} data-whole={whole} onKeyDown={onKey}>
      <div class="surface-tools">
        <div class="segments" role="group" aria-label="How they are shown">
          {showings.map((how) => <button key={how} type="button" aria-pressed={how === showing} onClick={() => setShowing(how)}>{WORDS[how]}</button>)}
        </div>
        <div class="segments" role="group" aria-label="From where">
          {views.map(([key, words, view]) => <button key={key} type="button" title={`Key ${key}`} onClick={() => stage.current?.look(view)}>{words}</button>)}
        </div>
      </div>
      <div class="surface-field">
        <canvas ref={canvas} tabIndex={0} role="img" aria-label={`${names[0]} and ${names[1]} in 3D; keys 1 to 6 turn to the standard views`} />
        {showing === 'wipe' && state === 'shown' && <span class="wipe-line" style={{ left: `${wipeAt}%` }} />}
        {state !== 'shown' && problem === null && <p class="over" role="status">Surfaces are read …</p>}
        <span class="name first">{names[0]}</span>
        {showing !== 'first' && <span class="name second">{names[1]}</span>}
      </div>
      {showing === 'wipe' && (
        <label class="wipe"><span>{names[0]} left of the line, {names[1].toLowerCase()} right of it</span>
          <input type="range" min={0} max={100} value={wipeAt} onInput={(event) => setWipeAt(Number((event.target as HTMLInputElement).value))} />
        </label>
      )}
      <ProblemBox problem={problem} />
      {children}
    </div>
  );
}
