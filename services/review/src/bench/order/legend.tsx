import { changeColour } from '@cast-to-last/sheet/paper/change-colours';
import { useEffect, useRef } from 'preact/hooks';
import type { BenchWork } from './bench-work.js';
import { signedMm } from './words.js';

const RANGES = [0.25, 0.5, 1, 2, 3, 5];

/** The scale of the change from scan to cleaned cast, with its numbers; its ends can be set. */
export function Legend({ work }: { readonly work: BenchWork }) {
  const bar = useRef<HTMLCanvasElement>(null);
  const { rangeMm } = work.display.value;
  useEffect(() => {
    const context = bar.current?.getContext('2d');
    if (context == null || bar.current === null) return;
    for (let x = 0; x < 256; x++) {
      const [r, g, b] = changeColour((2 * x) / 255 - 1, 1);
      context.fillStyle = `rgb(${r} ${g} ${b})`;
      context.fillRect(x, 0, 1, 16);
    }
  }, []);
  const set = (range: number): void => void (work.display.value = { ...work.display.value, rangeMm: range });
  return (
    <div class="change-scale" role="group" aria-label="Scale of the change">
      <span>{work.pairMap.value ? 'inside the other' : 'went in'}</span>
      <div class="scale">
        <canvas ref={bar} width={256} height={16} role="img" aria-label={`From blue at ${signedMm(-rangeMm)} mm over white at 0 to brown at ${signedMm(rangeMm)} mm`} />
        <div class="numbers" aria-hidden="true">{[-1, -0.5, 0, 0.5, 1].map((share) => <span key={share}>{signedMm(share * rangeMm, rangeMm < 1 ? 2 : 1)}</span>)}</div>
      </div>
      <span>{work.pairMap.value ? 'outside the other' : 'came out'}</span>
      <label class="small">ends at <select value={rangeMm} onChange={(event) => set(Number(event.currentTarget.value))}>{RANGES.map((range) => <option key={range} value={range}>± {range} mm</option>)}</select></label>
    </div>
  );
}
