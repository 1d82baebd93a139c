import { Fragment } from 'preact';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { counted, figure } from '../../parts/figures.js';
import type { OrderRead } from '../../server/results.js';
import { handle } from '../scene/handle.js';
import type { Tools } from '../scene/handle.js';
import { STANDARD_VIEWS, viewInWords } from '../scene/standard-views.js';
import type { BenchWork } from './bench-work.js';
import { patchTool } from './patch-tool.js';
import { MarkPins } from './mark-pins.js';
import { useKeys } from './keys.js';
import { BODY_WORDS, SIDE_WORDS } from './words.js';
import { DrawnKeys } from './drawn-keys.js';
import { Legend } from './legend.js';
import { PicturesView } from './pictures-view.js';
import { FootbedDrawn, FrameDrawn } from './plans-drawn.js';
import { SectionDrawn } from './section-drawn.js';
import { SectionHandles } from './section-handles.js';
import { LengthsDrawn } from './lengths-drawn.js';
import { TapesDrawn } from './tapes-drawn.js';
import { SceneBar } from './scene-bar.js';
import { PlaceShown } from './place-shown.js';
import { ViewKeys } from './view-keys.js';
import { useSignal } from '@preact/signals';

const NO_TOOLS: Tools = { press: () => undefined, hover: () => undefined, draws: () => false, stroke: () => undefined };

/** The feet as they are drawn, with all that lies over them. */
export function SceneView({ work, order, tools = NO_TOOLS, children }: { readonly work: BenchWork; readonly order: OrderRead; readonly tools?: Tools; readonly children?: ComponentChildren }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const box = useRef<HTMLDivElement>(null);
  const words = useSignal('');
  const stage = work.stage.value;
  const aims = patchTool.value;
  useEffect(() => {
    if (aims === null) for (const stand of stage?.stands.values() ?? []) stand.cursor([], 0);
    stage?.draw();
  }, [aims, stage]);
  const held = useRef(tools);
  held.current = tools;

  useEffect(() => {
    if (canvas.current !== null && work.stage.peek() === null) work.drawInto(canvas.current);
  }, [work]);
  useEffect(() => {
    if (stage === null || canvas.current === null || box.current === null) return undefined;
    const sized = new ResizeObserver(([{ contentRect: { width, height } }]) => stage.resize(width, height));
    sized.observe(box.current);
    const now: Tools = {
      press: (...a) => held.current.press(...a), hover: (...a) => held.current.hover(...a), draws: () => held.current.draws(), stroke: (...a) => held.current.stroke(...a),
    };
    const end = handle(canvas.current, stage, now);
    const element = canvas.current;
    const lost = (): void => work.lostDrawing();
    element.addEventListener('webglcontextlost', lost);
    let timer: ReturnType<typeof setTimeout> | undefined;
    const tell = (): void => {
      clearTimeout(timer);
      timer = setTimeout(() => void (words.value = viewInWords(stage.look)), 400);
    };
    stage.drawn.add(tell);
    return () => {
      sized.disconnect();
      element.removeEventListener('webglcontextlost', lost);
      end();
      clearTimeout(timer);
      stage.drawn.delete(tell);
    };
  }, [stage]);

  const turn = (turnBy: number, riseBy: number) => (): void => stage?.turnTo({ turn: stage.look.turn + turnBy, rise: stage.look.rise + riseBy }, true);
  useKeys({
    ...(!work.drawn.value.section && { ArrowLeft: turn(-0.12, 0), ArrowRight: turn(0.12, 0), ArrowUp: turn(0, 0.12), ArrowDown: turn(0, -0.12) }),
    '+': () => stage?.turnTo({ near: stage.look.near * 1.2 }, true), '-': () => stage?.turnTo({ near: stage.look.near / 1.2 }, true),
    ...(!work.drawn.value.section && { 'Shift+ArrowLeft': () => stage?.turnTo({ shift: [stage.look.shift[0] - 10, stage.look.shift[1]] }, true), 'Shift+ArrowRight': () => stage?.turnTo({ shift: [stage.look.shift[0] + 10, stage.look.shift[1]] }, true),
    'Shift+ArrowUp': () => stage?.turnTo({ shift: [stage.look.shift[0], stage.look.shift[1] + 10] }, true), 'Shift+ArrowDown': () => stage?.turnTo({ shift: [stage.look.shift[0], stage.look.shift[1] - 10] }, true) }),
    ...(stage !== null && Object.fromEntries(STANDARD_VIEWS.map(({ key, look }) => [key, () => stage.turnTo({ ...look, near: 1, shift: [0, 0] }, false)]))),
  });

  const { body, against, how } = work.display.value;
  const shown = `${work.feet.map(({ side }) => SIDE_WORDS[side]).join(' and ')}: ${BODY_WORDS[body]}${against === null ? '' : `, ${how} against the ${BODY_WORDS[against]}`}`;
  return (
    <section class="scene" aria-label="The casts in three dimensions" data-full={[...work.full.value].join(' ')}>
      <SceneBar work={work} />
      {!work.webgl.value && <PicturesView work={work} />}
      {work.webgl.value && <div class="canvas-box" ref={box}>
        <canvas ref={canvas} class={patchTool.value === null ? '' : 'aims'} role="img" aria-label={shown} />
        <p class="unseen" role="status">{shown}. View: {words.value}.</p>
        <p class="detail quiet small">{detailOf(work)}</p>
        {stage !== null && <MarkPins work={work} stage={stage} />}
        {stage !== null && work.place.value !== null && <PlaceShown work={work} stage={stage} place={work.place.value} />}
        {stage !== null && <ViewKeys stage={stage} />}
        {stage !== null && <DrawnKeys work={work} />}
        {stage !== null && work.feet.map((foot) => (
          <Fragment key={foot.side}>
            {work.drawn.value.tapes && <TapesDrawn work={work} stage={stage} foot={foot} />}
            {work.drawn.value.lengths && <LengthsDrawn work={work} stage={stage} foot={foot} />}
            {work.drawn.value.frame && <FrameDrawn work={work} stage={stage} foot={foot} />}
            {work.drawn.value.footbed && <FootbedDrawn work={work} stage={stage} foot={foot} footbed={order.content.footbed} />}
          </Fragment>
        ))}
        {stage !== null && work.drawn.value.section && <SectionHandles work={work} stage={stage} />}
        {work.display.value.change && <Legend work={work} />}
      </div>}
      {stage !== null && work.drawn.value.section ? <SectionDrawn work={work} stage={stage} /> : null}
      {children}
    </section>
  );
}

/** How fine what is shown is drawn, where it is not drawn with every triangle. */
function detailOf(work: BenchWork): string {
  const { body } = work.display.value;
  return work.feet.flatMap((foot) => {
    const version = work.bodies.value[foot.side];
    const stand = version === 0 ? undefined : work.stage.value?.stands.get(foot.side);
    const all = stand?.trianglesOf(body) ?? 0;
    if (stand === undefined || all === 0) return [];
    if (!work.full.value.has(`${foot.side}:${body}`)) return [`${foot.side}: coarse, full detail is on its way`];
    const drawn = (stand.geometry(body, 'full')?.index?.count ?? 0) / 3;
    return drawn >= all ? [] : [`${foot.side}: drawn with ${figure(drawn, 0)} of ${counted(all, 'triangle')}, made with all`];
  }).join('; ');
}
