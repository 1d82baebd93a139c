import { aheadOfBallLine } from '@cast-to-last/foot/ball-line';
import type { LastBody, LastChange, LastStep } from '../last-body.js';
import type { HeightOver } from './fair-sole.js';
import { depthInSole, fairSole } from './fair-sole.js';
import type { FlatSole } from './flat-sole.js';
import { flatSole } from './flat-sole.js';
import { offSole, settleSole } from './settle-sole.js';
import type { SoleReading } from './sole-reading.js';
import { REACH } from './sole-reading.js';

/** Under toes that are not level the sole stays as it is: the new one fades ahead of the ball line over these shares of foot length. */
const FADE = { from: 0.04, to: 0.1 } as const;

/**
 * Between its flat parts a sole that arches up further than this over their line is less and less drawn down to it, mm; the
 * nearer to a flat part, the farther up the line reaches, so that the sole passes into it without a step.
 */
const ARCH = { from: 1.5, to: 9 } as const;

export interface EvenSole extends LastStep {
  /** The straight lines across of a sole that is flat; null where it is not. */
  readonly flat: FlatSole | null;
}

/** The body with a sole that is fair, and on tread and heel seat straight across where `flat` is asked for. */
export function evenSole(body: LastBody, { map, outline, index, level }: SoleReading, flat: boolean): EvenSole {
  const { mesh, landmarks } = body;
  const depth = depthInSole(mesh, map, index, REACH);
  const fair = fairSole(mesh, depth, landmarks);
  const straight = flat ? flatSole(fair, map, outline, landmarks, level) : null;
  const warnings = flat && straight === null ? ['The sole is too narrow to be made flat across: it was made fair.'] : [];
  const share: HeightOver = level ? () => 1 : (x, y) => beforeToes(aheadOfBallLine(x, y, landmarks) / landmarks.footLength);
  const height: HeightOver = straight === null ? fair : (x, y) => {
    const part = straight.weight(x, y);
    const own = fair(x, y);
    const line = straight.height(x, y);
    return own + part * withinReach((1 - part) * (own - line)) * (line - own);
  };
  const whole: HeightOver = straight === null ? share : (x, y) => straight.weight(x, y) * share(x, y);
  const settled = settleSole(mesh, depth, height, share);
  const label = straight === null ? 'unevenness of the sole' : 'tread and heel seat off straight across';
  const changes: LastChange[] = [
    { id: straight === null ? 'sole-unevenness' : 'sole-across', label, unit: 'mm', before: offSole(mesh, depth, height, whole), asked: 0, got: offSole(settled.mesh, depth, height, whole) },
    { id: 'sole-moved', label: 'farthest that the sole was moved', unit: 'mm', before: 0, asked: null, got: settled.most },
  ];
  return { body: { ...body, mesh: settled.mesh }, changes, warnings, flat: straight };
}

const beforeToes = (ahead: number): number => smooth((FADE.to - ahead) / (FADE.to - FADE.from));

const withinReach = (over: number): number => smooth((ARCH.to - over) / (ARCH.to - ARCH.from));

function smooth(share: number): number {
  const t = Math.max(0, Math.min(1, share));
  return t * t * (3 - 2 * t);
}
