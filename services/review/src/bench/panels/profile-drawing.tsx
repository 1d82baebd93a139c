import type { Profile } from '../../parts/geometry/calls.js';

const [WIDTH, HEIGHT] = [360, 132];
const STEPS = [0.5, 1, 2, 5, 10];

/** The line across a mark before and after. Heights are drawn larger than lengths where a mark is flat; both scales are told. */
export function ProfileDrawing({ profile: { before, after }, reach }: { readonly profile: Profile; readonly reach: number }) {
  const heights = [...before, ...after].flatMap((line) => [...line].filter((_, i) => i % 2 === 1));
  const [low, high] = [Math.min(0, ...heights), Math.max(0, ...heights)];
  const across = (WIDTH - 40) / (2 * reach);
  const tall = Math.min(8 * across, (HEIGHT - 30) / Math.max(0.5, high - low));
  const x = (s: number): number => 34 + (s + reach) * across;
  const y = (h: number): number => 8 + (high - h) * tall;
  const path = (lines: readonly Float32Array[]): string => lines.map((line) => Array.from({ length: line.length / 2 }, (_, i) => `${i === 0 ? 'M' : 'L'}${x(line[2 * i]).toFixed(1)} ${y(line[2 * i + 1]).toFixed(1)}`).join('')).join('');
  const step = STEPS.find((s) => s * tall >= 16) ?? 20;
  const levels = Array.from({ length: Math.floor(high / step) - Math.ceil(low / step) + 1 }, (_, i) => (Math.ceil(low / step) + i) * step);
  return (
    <figure class="profile">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="The line across the mark, before and after">
        {levels.map((level) => <g key={level}><line class="level" x1="34" x2={WIDTH - 6} y1={y(level)} y2={y(level)} /><text x="30" y={y(level) + 4} text-anchor="end">{level}</text></g>)}
        <path class="before" d={path(before)} />
        <path class="after" d={path(after)} />
        {[-10, 0, 10].map((s) => <text key={s} x={x(s)} y={HEIGHT - 2} text-anchor="middle">{s}</text>)}
      </svg>
      <figcaption class="small"><span class="key before">scan</span> <span class="key after">cleaned</span> <span class="quiet">mm across; heights {tall > 1.2 * across ? `drawn ${(tall / across).toFixed(1)} times larger` : 'at the same scale'}</span></figcaption>
    </figure>
  );
}
