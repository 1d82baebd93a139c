import { useEffect, useRef } from 'preact/hooks';
import type { BenchWork } from '../order/bench-work.js';
import type { DecidedMark } from '../order/decided-marks.js';
import type { Foot } from '../order/foot.js';

const SIZE = { width: 176, height: 132 };

export interface CloseUpsProps {
  readonly work: BenchWork;
  readonly foot: Foot;
  readonly mark: DecidedMark;
  /** Goes up when the bodies changed. */
  readonly version: number;
  readonly ready: boolean;
}

/** The mark as it was scanned and as it is now, from the same place in the same light. */
export function CloseUps({ work, foot, mark, version, ready }: CloseUpsProps) {
  const before = useRef<HTMLCanvasElement>(null);
  const after = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const stage = work.stage.peek();
    if (!ready || stage === null) return undefined;
    let current = true;
    void work.thread.ask('normalsAt', { body: `${foot.side}:cleaned`, points: Float32Array.from(mark.centre) }).then((normal) => {
      if (!current || normal === null) return;
      const wide = Math.max(36, Math.min(90, 1.6 * Math.max(mark.width, Math.min(mark.length, 50))));
      for (const [canvas, body] of [[before.current, 'scan'], [after.current, 'cleaned']] as const) {
        if (canvas === null) continue;
        const ratio = Math.min(devicePixelRatio, 2);
        const [width, height] = [Math.round(SIZE.width * ratio), Math.round(SIZE.height * ratio)];
        const pixels = stage.closeUp(foot.side, body, { at: mark.centre, normal: [normal[0], normal[1], normal[2]], wide, width, height });
        canvas.width = width;
        canvas.height = height;
        if (pixels !== null) canvas.getContext('2d')?.putImageData(new ImageData(pixels, width, height), 0, 0);
      }
    }, () => undefined);
    return () => {
      current = false;
    };
  }, [mark.id, version, ready]);
  if (!work.webgl.value) return null;
  return (
    <div class="close-ups">
      <figure><canvas ref={before} role="img" aria-label={`Mark ${mark.number} as scanned`} /><figcaption class="small">as scanned</figcaption></figure>
      <figure><canvas ref={after} role="img" aria-label={`Mark ${mark.number} as it is now`} /><figcaption class="small">as it is now</figcaption></figure>
    </div>
  );
}
