import { useEffect, useMemo, useState } from 'preact/hooks';
import { Anchored } from './anchored.js';
import type { Anchor } from './anchored.js';
import type { BenchWork } from './bench-work.js';
import { HiddenPins } from './hidden-pins.js';
import type { Stage } from '../scene/stage.js';

/** A pin on each mark; its shape says what becomes of the mark, its number is that of the list and the sheet. */
export function MarkPins({ work, stage }: { readonly work: BenchWork; readonly stage: Stage }) {
  const [normals, setNormals] = useState<ReadonlyMap<string, readonly number[]>>(new Map());
  const full = work.full.value;
  const reports = work.feet.map(({ report }) => report.value);
  useEffect(() => {
    let current = true;
    void Promise.all(work.feet.map(async ({ side, report }) => {
      const marks = report.value?.marks ?? [];
      const found = full.has(`${side}:cleaned`) ? await work.thread.ask('normalsAt', { body: `${side}:cleaned`, points: Float32Array.from(marks.flatMap(({ centre }) => centre)) }) : null;
      return found === null ? [] : marks.map(({ id }, i): [string, readonly number[]] => [`${side}:${id}`, [...found.subarray(3 * i, 3 * i + 3)]]);
    })).then((pairs) => current && setNormals(new Map(pairs.flat())), () => undefined);
    return () => {
      current = false;
    };
  }, [full, ...reports]);

  const hidden = useMemo(() => new HiddenPins(work, stage, work.feet.flatMap(({ side, report }) => (report.value?.marks ?? []).map(({ id, centre }) => ({ key: `${side}:${id}`, side, at: centre })))), [work, stage, ...reports]);
  useEffect(() => {
    stage.drawn.add(hidden.look);
    stage.draw();
    return () => void stage.drawn.delete(hidden.look);
  }, [stage, hidden]);

  const selected = work.selected.value;
  useEffect(() => {
    const mark = selected === null ? undefined : work.foot(selected.side)?.marks.peek().find(({ id }) => id === selected.mark);
    const normal = selected === null ? undefined : normals.get(`${selected.side}:${selected.mark}`);
    if (selected === null || mark === undefined || normal === undefined) return;
    const spot = stage.sight.project(selected.side, mark.centre, normal);
    if (spot === null || (hidden.hides(`${selected.side}:${selected.mark}`) ?? !spot.faces) || stage.look.near > 1.2) stage.face(selected.side, mark.centre, normal);
  }, [selected, normals]);
  // A last has no marks any more.
  const anchors = work.display.value.body === 'last' ? [] : work.feet.flatMap(({ side, marks }) => marks.value.map((mark): Anchor => {
    const chosen = selected?.side === side && selected.mark === mark.id;
    return {
      key: `${side}:${mark.id}`, side, at: mark.centre, hidden: () => hidden.hides(`${side}:${mark.id}`), normal: normals.get(`${side}:${mark.id}`) ?? null, class: `pin ${mark.now}${chosen ? ' chosen' : ''}`, shown: mark.number,
      press: () => void (work.selected.value = { side, mark: mark.id }),
    };
  }));
  return <Anchored stage={stage} anchors={anchors} />;
}
