/** One straight-sided path of a page, pairs x, y in points, from the top left as pdfkit sets it. */
export interface PdfPath {
  readonly points: readonly number[];
  readonly closed: boolean;
  /** Width of the line in force when it was stroked, and its colour as the page names it. */
  readonly lineWidth: number;
}

/** The straight-sided paths of a page's drawing operators that are stroked; curves end the path that they are part of. */
export function strokedPaths(operators: string): PdfPath[] {
  const paths: PdfPath[] = [];
  let open: { points: number[]; closed: boolean }[] = [];
  let lineWidth = 1;
  for (const line of operators.split('\n')) {
    const parts = line.trim().split(/\s+/);
    const operator = parts[parts.length - 1];
    const numbers = parts.slice(0, -1).map(Number);
    if (operator === 'm') open.push({ points: numbers, closed: false });
    else if (operator === 'l') open.at(-1)?.points.push(...numbers);
    else if (operator === 'h') open.splice(-1, 1, ...open.slice(-1).map((p) => ({ ...p, closed: true })));
    else if (operator === 'w') lineWidth = numbers[0];
    else if (operator === 'c') open = [];
    else if (operator === 'S' || operator === 'B') {
      paths.push(...open.map((p) => ({ ...p, lineWidth })));
      open = [];
    } else if (/^(f|f\*|n|W|W\*)$/.test(operator)) open = [];
  }
  return paths;
}

/** Width and height of what paths cover, mm of paper: a point is 1/72 inch. */
export function sizeMm(paths: readonly Pick<PdfPath, 'points'>[]): [number, number] {
  const size = (k: number): number => {
    const along = paths.flatMap((p) => p.points.filter((_, i) => i % 2 === k));
    return ((Math.max(...along) - Math.min(...along)) / 72) * 25.4;
  };
  return [size(0), size(1)];
}
