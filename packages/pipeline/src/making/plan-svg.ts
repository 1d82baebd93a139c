import { silhouette } from '@cast-to-last/geometry/views/contour-lines';
import type { Mesh } from '@cast-to-last/geometry/mesh/mesh';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import { transformMesh } from '@cast-to-last/geometry/numerics/transform';
import type { ViewAxes } from '@cast-to-last/geometry/views/view';
import { viewMesh } from '@cast-to-last/geometry/views/view';
import type { PrintRules } from '../rules/making-rules.js';
import type { Blank } from './blank.js';
import type { PrintJob, PrintedPiece } from './make-print.js';

export const PLAN = {
  /** Paper mm over mm of the drawing. */
  scale: 0.5,
  /** Outlines are drawn from samples this far apart, mm. */
  cell: 0.5,
  /** Paper mm: around, between drawings, of a line of text. */
  margin: 10,
  gap: 14,
  text: 3.4,
} as const;

const ABOVE: ViewAxes = { right: [1, 0, 0], up: [0, 1, 0] };
const BESIDE: ViewAxes = { right: [1, 0, 0], up: [0, 0, 1] };

const number = (value: number): string => (Math.round(value * 100) / 100).toString();
const sizeText = (size: readonly number[]): string => `${size.map((s) => s.toFixed(1)).join(' × ')} mm`;
const escaped = (text: string): string => text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);

/** Something drawn in mm with y up, put on paper with its lower left corner in the drawing's own. */
interface Drawing {
  readonly title: readonly string[];
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly string[];
}

/**
 * The plan for the bench, as SVG at half size: each plate from above with what lies on it, and the blank from above and from
 * the side with the last in it.
 */
export function planSvg(title: string, job: PrintJob, rules: PrintRules, last: Mesh, blank: Blank): string {
  const plates = Array.from({ length: job.plates }, (_, n) => plateDrawing(job.pieces.filter((p) => p.plate === n), n, rules));
  const drawings = [...plates, ...blankDrawings(last, blank)];
  const { margin, gap, text, scale } = PLAN;
  const width = Math.max(...drawings.map((d) => scale * d.width), 150) + 2 * margin;
  let y = margin + text;
  const parts = [`<text x="${margin}" y="${number(y)}" font-size="${1.3 * text}" font-weight="bold">${escaped(title)}</text>`];
  for (const d of drawings) {
    y += gap - text;
    for (const line of d.title) parts.push(`<text x="${margin}" y="${number((y += 1.35 * text))}" font-size="${text}">${escaped(line)}</text>`);
    y += 2;
    parts.push(`<g transform="translate(${margin} ${number(y + scale * d.height)}) scale(${scale} ${-scale})">${d.shapes.join('')}</g>`);
    y += scale * d.height;
  }
  const height = y + margin;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${number(width)}mm" height="${number(height)}mm" viewBox="0 0 ${number(width)} ${number(height)}" font-family="sans-serif" fill="#111">\n` +
    `<rect width="100%" height="100%" fill="#fff"/>\n${parts.join('\n')}\n</svg>\n`
  );
}

function plateDrawing(pieces: readonly PrintedPiece[], n: number, { bedMm: [x, y, z], overhangDeg }: PrintRules): Drawing {
  const label = (piece: PrintedPiece): string =>
    `${piece.plan.name}: ${sizeText(piece.lay.size)}, ${(piece.volume / 1000).toFixed(0)} cm³, overhang beyond ${overhangDeg}° ${(piece.lay.area / 100).toFixed(1)} cm²${piece.wall === null ? '' : `, wall ${piece.wall.least.toFixed(2)} to ${piece.wall.most.toFixed(2)} mm`}`;
  return {
    title: [`Plate ${n + 1}, ${x} × ${y} × ${z} mm, from above, 1 : ${1 / PLAN.scale}`, ...pieces.map(label)],
    width: x,
    height: y,
    shapes: [rect(0, 0, x, y, '#888', 'none'), ...pieces.flatMap((piece) => {
      const [left, low, , right, high] = bounds(piece.mesh.positions);
      return [outline(piece.mesh, ABOVE), name(piece.plan.name, (left + right) / 2, (low + high) / 2)];
    })],
  };
}

function blankDrawings(last: Mesh, blank: Blank): Drawing[] {
  const lying = transformMesh(blank.transform, last);
  const [length, width, height] = blank.size;
  const { start, end } = blank.hold;
  const view = (what: string, axes: ViewAxes, across: number): Drawing => ({
    title: [what],
    width: length,
    height: across,
    shapes: [
      rect(0, 0, length, across, '#888', 'none'), rect(0, 0, start, across, '#888', '#e4e4e4'), rect(length - end, 0, end, across, '#888', '#e4e4e4'), outline(lying, axes),
    ],
  });
  const along = blank.along === 'length' ? 'heel at the left' : 'sole at the left';
  return [
    view(`Blank ${sizeText(blank.size)}, ${along}, turned ${number(blank.turnedDeg)}° about its length, from above; held where it is grey`, ABOVE, width),
    view(`The same from the side; stock ${blank.stock.map((s) => number(s)).join(', ')} mm (start, end, sides); round blank ${number(blank.roundDiameter)} mm`, BESIDE, height),
  ];
}

const rect = (x: number, y: number, width: number, height: number, stroke: string, fill: string): string =>
  `<rect x="${number(x)}" y="${number(y)}" width="${number(width)}" height="${number(height)}" stroke="${stroke}" stroke-width="0.8" fill="${fill}"/>`;

/** Text at a point of a drawing whose y runs up. */
const name = (text: string, x: number, y: number): string =>
  `<text transform="translate(${number(x)} ${number(y)}) scale(1 -1)" text-anchor="middle" font-size="${number((1.2 * PLAN.text) / PLAN.scale)}">${escaped(text)}</text>`;

function outline(mesh: Mesh, axes: ViewAxes): string {
  const lines = silhouette(viewMesh(mesh, axes, PLAN.cell)).map(({ points }) => {
    const at: string[] = [];
    for (let i = 0; i < points.length; i += 2) at.push(`${number(points[i])} ${number(points[i + 1])}`);
    return `M${at.join('L')}Z`;
  });
  return `<path d="${lines.join('')}" fill="#cfe3f5" fill-rule="evenodd" stroke="#1a4a7a" stroke-width="0.8"/>`;
}
