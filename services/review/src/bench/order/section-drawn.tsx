import { medialSign } from '@cast-to-last/foot/side';
import { useEffect } from 'preact/hooks';
import { pairsOf, segments } from '../scene/lines.js';
import type { Stage } from '../scene/stage.js';
import type { BenchWork } from './bench-work.js';
import type { Foot } from './foot.js';
import { sceneColours } from './scene-colours.js';
import { moveSections, planeOf, sectionCuts, sections } from './section-state.js';
import type { SectionAt } from './section-state.js';
import { SectionProfile } from './section-profile.js';
import { useKeys } from './keys.js';
import { useLines } from './use-lines.js';
import { SIDE_WORDS, mm } from './words.js';

/** The section that can be moved: its line on both feet, the tape round it, and its outline beside the scene, true in scale to each other. */
export function SectionDrawn({ work, stage }: { readonly work: BenchWork; readonly stage: Stage }) {
  const at = sections.value[work.feet[0].side];
  const set = (to: Partial<SectionAt>): void => moveSections({ x: (to.x ?? at.x) - at.x, tilt: (to.tilt ?? at.tilt) - at.tilt, swing: (to.swing ?? at.swing) - at.swing });
  useKeys({
    ArrowLeft: () => moveSections({ x: -1 }), ArrowRight: () => moveSections({ x: 1 }), 'Shift+ArrowLeft': () => moveSections({ x: -10 }), 'Shift+ArrowRight': () => moveSections({ x: 10 }),
    ArrowUp: () => moveSections({ tilt: 1 }), ArrowDown: () => moveSections({ tilt: -1 }),
  });
  const stations = [...new Set(work.feet.flatMap(({ sheet }) => (sheet.value?.drawn.stations ?? []).map(({ id }) => id)))];
  return (
    <div class="section-card" role="group" aria-label="Movable section">
      <div class="outlines">{work.feet.map((foot) => <OneSection key={foot.side} work={work} stage={stage} foot={foot} at={sections.value[foot.side]} />)}</div>
      <div class="where">
        <label class="small own-arrows">from the heel <input type="range" min="0" max="340" step="0.5" value={at.x} onInput={(event) => set({ x: Number(event.currentTarget.value) })} /> <strong>{mm(at.x)}</strong> mm</label>
        <label class="small">tilt <input type="number" min="-80" max="80" step="1" value={Math.round(at.tilt * 10) / 10} onChange={(event) => set({ tilt: Number(event.currentTarget.value) })} />°</label>
        <label class="small">swing <input type="number" min="-60" max="60" step="1" value={Math.round(at.swing * 10) / 10} onChange={(event) => set({ swing: Number(event.currentTarget.value) })} />°</label>
        <label class="small">lay at <select value="" onChange={(event) => {
          work.layAt(event.currentTarget.value);
          event.currentTarget.value = '';
        }}><option value="">…</option>{stations.map((id) => <option key={id} value={id}>{id.replaceAll('-', ' ')}</option>)}</select></label>
        <span class="quiet small">Arrows move and tilt it; with Shift ten at a time.</span>
      </div>
    </div>
  );
}

function OneSection({ work, stage, foot, at }: { readonly work: BenchWork; readonly stage: Stage; readonly foot: Foot; readonly at: SectionAt }) {
  const body = work.display.value.body;
  const key = `${foot.side}:${body}`;
  const ready = work.full.value.has(key);
  const version = work.bodies.value[foot.side];
  useEffect(() => {
    let current = true;
    if (ready) void work.thread.ask('cut', { body: key, plane: planeOf(at, medialSign(foot.side)), felt: body !== 'scan', through: null }).then((found) => current && (sectionCuts.value = { ...sectionCuts.value, [foot.side]: found }), () => undefined);
    return () => {
      current = false;
    };
  }, [at, key, ready, version]);
  const found = sectionCuts.value[foot.side] ?? null;
  useLines(stage, foot.side, () => {
    const colour = sceneColours().section;
    return (found?.curves ?? []).filter(({ points }) => points.length >= 6).map(({ points, closed }) => segments(pairsOf(points, closed), { colour, width: 3 }));
  }, [found]);
  const girth = found?.tape?.length;
  return (
    <figure>
      <figcaption><strong>{SIDE_WORDS[foot.side]}</strong> <span class="girth" role="status">{!ready || found === null ? '…' : girth === undefined ? 'open: no tape closes round it' : <>tape <strong>{mm(girth)}</strong> mm</>}</span></figcaption>
      <SectionProfile cut={found} plane={planeOf(at, medialSign(foot.side))} />
    </figure>
  );
}
