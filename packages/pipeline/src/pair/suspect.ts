import type { ComparedCast, ComparedFigure, Which } from './compared-cast.js';

/** The finding codes, exact or by how they begin, that speak for a cast being the wrong one of the two in a figure. */
const EVIDENCE: Readonly<Record<string, readonly RegExp[]>> = {
  'foot-length': [/^beyond-toes$/, /^toes-closed$/, /^tape-foot-length$/, /^population-.*foot-length$/, /^toe-box$/],
  'medial-ball-length': [/^tape-(medial-ball|foot)-length$/, /^population-medial-ball-length/],
  girth: [/^closing-/, /^cut-step$/, /^shell-/, /^wall-/, /^warp/],
};

/** Own evidence: a girth against the tape and the population, or the reading's own finding. */
function speaks(id: string, code: string): boolean {
  if (code === id) return true;
  const named = EVIDENCE[id] ?? [];
  const girths = id.endsWith('-girth') ? [...EVIDENCE.girth, new RegExp(`^(tape|population)-${id}`)] : [];
  return [...named, ...girths].some((pattern) => pattern.test(code));
}

/** Which cast looks wrong in a figure, and why; null where that cannot be told. */
export interface Suspicion {
  readonly suspect: Which;
  readonly why: string;
}

/**
 * The cast whose own findings speak against it while the other's do not; in an angle, else the one that is plainly further
 * from what its order wanted.
 */
export function suspectOf(figure: ComparedFigure, first: ComparedCast, second: ComparedCast): Suspicion | null {
  const against = (cast: ComparedCast): string[] => cast.check.findings.filter((f) => speaks(figure.id, f.code)).map((f) => f.text);
  const a = against(first);
  const b = against(second);
  if ((a.length > 0) !== (b.length > 0)) {
    const suspect = a.length > 0 ? 'first' : 'second';
    return { suspect, why: `${capital((suspect === 'first' ? first : second).name)} looks wrong, for: ${(suspect === 'first' ? a : b)[0]}` };
  }
  const off = (cast: ComparedCast, value: number): number | null => {
    const wanted = cast.check.readings.find((r) => r.id === figure.id)?.wanted ?? null;
    return wanted === null ? null : Math.abs(value - wanted);
  };
  const x = off(first, figure.first);
  const y = off(second, figure.second);
  if (x === null || y === null || figure.limit === null || Math.abs(x - y) <= figure.limit / 2) return null;
  const suspect = x > y ? 'first' : 'second';
  return {
    suspect,
    why: `${capital((suspect === 'first' ? first : second).name)} looks wrong: it is ${Math.max(x, y).toFixed(1)}° from what was wanted, the other ${Math.min(x, y).toFixed(1)}°.`,
  };
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
