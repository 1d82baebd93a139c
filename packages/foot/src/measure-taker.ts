import { meanEdgeLength } from '@cast-to-last/geometry/mesh/quantities';
import { section } from '@cast-to-last/geometry/sections/section';
import { ankleGirth } from './ankle-girth.js';
import { archHeight } from './arch-height.js';
import { breadthBelow, endsBelow } from './breadth-below.js';
import { coarseDoubt, coarseSlide } from './coarse-doubt.js';
import { extentBeyond } from './extent-beyond.js';
import { extremeSlide } from './extreme-slide.js';
import type { FilledNear } from './filled-near.js';
import { filledNear } from './filled-near.js';
import type { FrameLandmarks } from './frame.js';
import { FRAME } from './frame.js';
import type { Girth, Wrapped } from './girths.js';
import { allCurves, girthInPlane, shortestGirth, tiltedGirth } from './girths.js';
import type { Landmarks, Point } from './landmarks.js';
import type { MeasureEnds, MeasureId, Measurement, TapeLine } from './measures.js';
import { MadeUpDoubt } from './made-up-doubt.js';
import { DOUBTS, MADE_UP_ERROR, MOST_DOUBT } from './measure-doubts.js';
import { MEASURE_LABELS } from './measures.js';
import { INSTEP_STATION, highestAt } from './points.js';
import type { Side } from './side.js';

/** Where the toe part of the foot and its broad part begin, as shares of its length. */
const STATIONS = { toes: 0.9, breadth: 0.5 } as const;

export interface TakeOptions {
  readonly side: Side;
  readonly on: 'cast' | 'last';
  /** Standard deviation of the surface along its normal, mm: scan noise with plaster texture. */
  readonly roughness: number;
  /** Height above the rest plane up to which the surface is whole all round, mm; Infinity where the top is capped. */
  readonly wholeTo: number;
}

/** Takes the measures of one surface whose landmarks are known, one after another. */
export class MeasureTaker {
  private readonly surface: Wrapped;
  private readonly options: TakeOptions;
  private readonly frame: FrameLandmarks;
  private readonly points: Landmarks;
  /** What the surface measures along x; its stations are shares of the frame's foot length. */
  private readonly length: number;
  /** Whether the ball points are stations that were given: those slide nowhere. */
  private readonly given: boolean;
  /** 95 % half-width of one point's position along the surface normal. */
  private readonly pointError: number;
  /** Mean length of the edges, mm. */
  private readonly edge: number;
  private readonly filledNear: FilledNear;
  private readonly madeUp: MadeUpDoubt;
  /** How far the rearmost point, from which stations are counted, may lie off along the foot, mm. */
  private readonly heelDoubt: number;
  /** How far the rest plane, from which heights are counted, may lie off under a place along the foot, mm. */
  private readonly floorDoubt: (x: number) => number;
  private readonly taken: Measurement[] = [];

  /** @param ofLast what a last measures along x, where the points are not found on the surface but given as its foot's stations */
  constructor(surface: Wrapped, options: TakeOptions, frame: FrameLandmarks, points: Landmarks, ofLast?: { readonly length: number }) {
    this.length = ofLast?.length ?? frame.footLength;
    this.given = ofLast !== undefined;
    this.surface = surface;
    this.options = options;
    this.frame = frame;
    this.points = points;
    this.filledNear = filledNear(surface);
    this.madeUp = new MadeUpDoubt(surface, frame.footLength, this.given);
    this.heelDoubt = this.madeUp.ofHeel(frame);
    this.floorDoubt = this.madeUp.ofFloor(frame);
    this.edge = meanEdgeLength(surface.mesh);
    this.pointError = 1.96 * Math.max(options.roughness, 0.01);
  }

  all(): Measurement[] {
    const { points } = this;
    const a = points.medialBall;
    const b = points.lateralBall;
    const e = this.pointError;
    const { positions } = this.surface.mesh;
    const slideA = this.given ? 0 : Math.hypot(extremeSlide(positions, a), coarseSlide(this.edge));
    const slideB = this.given ? 0 : Math.hypot(extremeSlide(positions, b), coarseSlide(this.edge));
    const heel = this.heelDoubt;
    const ball = this.madeUp.ofBall(points);
    const lengthError = Math.hypot(Math.SQRT2 * e, heel);
    this.footLength();
    this.take('medial-ball-length', a[0] - points.pternion[0], Math.hypot(lengthError, slideA), this.filledNear(a), { ends: [points.pternion, a] });
    this.take('lateral-ball-length', b[0] - points.pternion[0], Math.hypot(lengthError, slideB), this.filledNear(b), { ends: [points.pternion, b] });
    this.ballGirth(slideA, slideB);
    const dx = a[0] - b[0];
    const dy = a[1] - b[1];
    const width = Math.hypot(dx, dy);
    const slant = Math.abs(dx) / width;
    this.take('ball-width', width, Math.hypot(Math.SQRT2 * e, slant * slideA, slant * slideB, ...ball), this.filledNear(a, b), { ends: [b, a] });
    const deg = 180 / Math.PI;
    this.take('ball-angle', Math.atan2(dx, Math.abs(dy)) * deg, (Math.hypot(slideA, slideB) / width) * deg, this.filledNear(a, b), { unit: 'deg' });
    this.breadths(ball);
    this.instepMeasures();
    this.heelGirths();
    this.ankleGirth();
    this.toeHeight();
    this.archHeight();
    return this.inOrder();
  }

  private inOrder(): Measurement[] {
    const order = Object.keys(MEASURE_LABELS);
    return this.taken.sort((m, n) => order.indexOf(m.id) - order.indexOf(n.id));
  }

  private take(id: MeasureId, value: number, uncertainty: number, onFilled: number, { unit = 'mm', ...drawn }: { readonly unit?: 'mm' | 'deg'; readonly tape?: TapeLine; readonly ends?: MeasureEnds } = {}): void {
    const label = MEASURE_LABELS[id];
    if (uncertainty > MOST_DOUBT) this.absent(id, 'Too much of the surface that it is read from was missing in the scan, or its points lie too far apart: it may be far off.');
    else this.taken.push({ id, label, value, unit, uncertainty: unit === 'mm' ? Math.hypot(uncertainty, MADE_UP_ERROR * onFilled, coarseDoubt(id, this.edge)) : uncertainty, on: this.options.on, onFilled, ...drawn });
  }

  private absent(id: MeasureId, reason: string): void {
    this.taken.push({ id, label: MEASURE_LABELS[id], on: this.options.on, absent: reason });
  }

  /** A girth's own error: each of a tape's many corners errs on its own, so the tape errs little more than one point. */
  private girth(id: MeasureId, girth: Girth, slideEffect: number): void {
    this.take(id, girth.length, Math.hypot(2 * this.pointError, slideEffect, this.madeUp.ofTape(girth)), girth.onFilled, { tape: girth.line });
  }

  private footLength(): void {
    const { pternion, toeTip } = this.points;
    this.take('foot-length', this.length, Math.hypot(Math.SQRT2 * this.pointError, this.heelDoubt, this.madeUp.ofToes(this.points)), this.filledNear(pternion, toeTip), { ends: [pternion, toeTip] });
  }

  private ballGirth(slideA: number, slideB: number): void {
    const { medialBall: a, lateralBall: b } = this.points;
    const at = (da: number, db: number): Girth | null => {
      const u = [a[0] + da - b[0] - db, a[1] - b[1], 0];
      const length = Math.hypot(u[0], u[1]);
      return girthInPlane(this.surface, [b[0] + db, b[1], b[2]], [u[0] / length, u[1] / length, 0], [0, 0, 1], allCurves);
    };
    const girth = at(0, 0);
    if (girth === null) {
      this.absent('ball-girth', 'The section round the ball is open: the scan has a gap there.');
      return;
    }
    const shift = (da: number, db: number): number => Math.abs((at(da, db)?.length ?? girth.length) - girth.length);
    this.girth('ball-girth', girth, Math.hypot(shift(slideA, 0), shift(0, slideB)));
  }

  private breadths(ball: readonly number[]): void {
    const { mesh, twin } = this.surface;
    const fl = this.frame.footLength;
    const e = Math.SQRT2 * this.pointError;
    const broad = extentBeyond(mesh, STATIONS.breadth * fl, 1);
    this.take('foot-breadth', broad[1][1] - broad[0][1], Math.hypot(e, ...ball), this.filledNear(this.points.medialBall, this.points.lateralBall), { ends: broad });
    const ceiling = FRAME.heelCeiling * fl;
    const at = (dx: number): number => {
      const ends = breadthBelow(section(mesh, twin, [1, 0, 0], FRAME.heelSection * fl + dx), ceiling);
      return ends === null ? this.frame.heelWidth : ends[1] - ends[0];
    };
    const aside = Math.hypot(DOUBTS.heelSection, this.stationDoubt(FRAME.heelSection));
    const stationEffect = Math.abs(at(aside) - at(-aside));
    const ends = endsBelow(section(mesh, twin, [1, 0, 0], this.frame.heelCentre[0]), ceiling);
    this.take('heel-width', this.frame.heelWidth, Math.hypot(e, stationEffect, ...this.madeUp.ofHeelSides(this.frame)), this.filledNear(this.points.heelCentre), ends === null ? {} : { ends });
  }

  private instepMeasures(): void {
    const { instep, waist } = this.points;
    if (instep === null) {
      this.absent('instep-height', 'The top of the foot is open at half its length.');
      this.absent('instep-girth', 'The instep point could not be found.');
      this.absent('waist-girth', 'The instep point could not be found.');
      return;
    }
    this.take('instep-height', instep[2], Math.hypot(Math.SQRT2 * this.pointError, this.madeUp.ofTop(instep), this.topEffect(instep), this.floorDoubt(instep[0])), this.filledNear(instep), { ends: [[instep[0], instep[1], 0], instep] });
    this.shortest('instep-girth', instep);
    if (waist === null) this.absent('waist-girth', 'The top of the foot is open between instep and ball.');
    else this.shortest('waist-girth', waist);
  }

  /** How far a station at a share of the length may lie off for the doubt about where the heel ends, mm. */
  private stationDoubt = (share: number): number => Math.min((1 - share) * this.heelDoubt, MOST_DOUBT);

  /** What that does to the height of the instep. */
  private topEffect(instep: Point): number {
    const aside = this.stationDoubt(INSTEP_STATION);
    if (aside === 0) return 0;
    return Math.max(...[-aside, aside].map((dx) => Math.abs((highestAt(this.surface, instep[0] + dx)?.[2] ?? instep[2]) - instep[2])));
  }

  private shortest(id: MeasureId, point: Point): void {
    const found = shortestGirth(this.surface, point);
    if (found === null) {
      this.absent(id, 'The section is open in every direction of the tape: the cast stops short.');
      return;
    }
    let effect = 0;
    const aside = Math.hypot(DOUBTS.top, this.stationDoubt(INSTEP_STATION));
    for (const dx of [-aside, aside]) {
      const beside = highestAt(this.surface, point[0] + dx);
      const girth = beside === null ? null : tiltedGirth(this.surface, beside, found.tilt);
      if (girth !== null) effect = Math.max(effect, Math.abs(girth.length - found.girth.length) / 2);
    }
    this.girth(id, found.girth, effect);
  }

  private heelGirths(): void {
    const { crook, instep, heelCorner: corner } = this.points;
    const through = (id: MeasureId, top: Point | null, missing: string): void => {
      if (top === null) {
        this.absent(id, missing);
        return;
      }
      const at = (dx: number): Girth | null => {
        const v = [top[0] + dx - corner[0], 0, top[2] - corner[2]];
        const length = Math.hypot(v[0], v[2]);
        return girthInPlane(this.surface, corner, [0, 1, 0], [v[0] / length, 0, v[2] / length], allCurves);
      };
      const girth = at(0);
      if (girth === null) this.absent(id, 'The section through heel and ankle is open: the cast stops short.');
      else this.girth(id, girth, Math.hypot((at(DOUBTS.heelTop)?.length ?? girth.length) - girth.length, this.heelDoubt));
    };
    through('short-heel-girth', crook, 'The cast does not reach above the crook of the ankle.');
    through('long-heel-girth', instep, 'The instep point could not be found.');
  }

  private ankleGirth(): void {
    const found = ankleGirth(this.surface, this.frame.footLength, this.options.wholeTo);
    if ('absent' in found) this.absent('ankle-girth', found.absent);
    else this.girth('ankle-girth', found, DOUBTS.ankleGirth);
  }

  private toeHeight(): void {
    const [low, high] = extentBeyond(this.surface.mesh, STATIONS.toes * this.length, 2);
    this.take('toe-height', high[2] - low[2], Math.hypot(Math.SQRT2 * this.pointError, this.madeUp.ofSole(STATIONS.toes * this.length, Infinity)), this.filledNear(this.points.toeTip), { ends: [low, high] });
  }

  private archHeight(): void {
    const found = archHeight(this.surface, this.frame.footLength, this.options.side, this.options.roughness);
    if (found === null) this.absent('arch-height', 'No sole was found in the medial third of the arch.');
    else this.take('arch-height', found.height, Math.hypot(2 * this.pointError, DOUBTS.archHeight, found.slide, this.floorDoubt(found.at[0])), found.onFilled, { ends: [[found.at[0], found.at[1], 0], found.at] });
  }
}
