import type { BenchWork } from './bench-work.js';
import { SIDE_WORDS } from './words.js';

/** The marks laid along a ruler from heel to toes, one line a foot. For eye and pointer; the list says the same. */
export function MarkRuler({ work }: { readonly work: BenchWork }) {
  const selected = work.selected.value;
  const longest = Math.max(...work.feet.map((foot) => lengthOf(foot.report.value?.measurements)), 200);
  const end = Math.ceil(longest / 10) * 10;
  return (
    <div class="mark-ruler" aria-hidden="true">
      {work.feet.map((foot) => (
        <div class="line" key={foot.side}>
          <span class="name">{SIDE_WORDS[foot.side]}</span>
          <div class="along">
            {Array.from({ length: end / 50 + 1 }, (_, i) => <span class="ruler-tick" key={i} style={{ left: `${(5000 * i) / end}%` }}>{50 * i}</span>)}
            {foot.marks.value.map((mark) => (
              <span key={mark.id} class={`ruler-spot ${mark.now}${selected?.side === foot.side && selected.mark === mark.id ? ' chosen' : ''}`} style={{ left: `${Math.max(0, Math.min(100, (100 * mark.centre[0]) / end))}%` }} title={`mark ${mark.number}`}
                onClick={() => void (work.selected.value = { side: foot.side, mark: mark.id })} />
            ))}
          </div>
        </div>
      ))}
    </div>
  );
}

const lengthOf = (measurements: readonly object[] | undefined): number => {
  const found = measurements?.find((m) => (m as { id: string }).id === 'foot-length') as { value?: number } | undefined;
  return found?.value ?? 0;
};
