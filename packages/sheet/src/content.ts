/**
 * Everything that stands on a measurement sheet. The sheet draws and formats it; it computes no number of its own.
 * Lengths are mm; drawings are in mm of the cast, right and up on the paper.
 */
export interface SheetContent {
  readonly paper: Paper;
  readonly orderNumber: string;
  readonly side: 'left' | 'right';
  /** ISO date, or null where the caller gives none. */
  readonly date: string | null;
  /** Label and text, in order: scan file, kind of scan, unit, rule set, program version and the like. */
  readonly particulars: readonly SheetParticular[];
  readonly measures: readonly SheetMeasure[];
  /** One line under the measures: what the lengths run along, what ± means. */
  readonly measureNote: string;
  readonly sizes: readonly { readonly system: string; readonly size: string }[];
  readonly sizeConvention: string;
  readonly castCheck: {
    readonly verdict: string;
    readonly findings: readonly { readonly severity: string; readonly text: string }[];
    readonly readings: readonly SheetReading[];
    /** Why some could not be taken or weighed. */
    readonly reasons: readonly string[];
  };
  readonly warnings: readonly string[];
  readonly drawings: readonly SheetDrawing[];
  readonly drawingNote: string;
  readonly marks: readonly SheetMark[];
  readonly cautions: readonly string[];
}

export type Paper = 'a4' | 'letter';

export interface SheetParticular {
  readonly label: string;
  readonly text: string;
}

export interface SheetFigure {
  readonly value: number;
  readonly uncertainty: number;
}

export interface SheetMeasure {
  readonly label: string;
  readonly unit: 'mm' | 'deg';
  /** null where absent; the remark says why. */
  readonly cast: SheetFigure | null;
  readonly last: SheetFigure | null;
  readonly remark: string;
}

/** One reading of the cast check, in words; '' where there is nothing to say. The unit stands with what was measured. */
export interface SheetReading {
  readonly label: string;
  readonly measured: string;
  readonly wanted: string;
  readonly care: string;
  readonly recast: string;
  readonly state: string;
}

/** Pairs right, up, mm. */
export interface SheetLine {
  readonly points: Float64Array;
  readonly closed: boolean;
}

export interface SheetTape {
  /** One letter, the same on every drawing. */
  readonly letter: string;
  readonly label: string;
  /** The parts of the tape that the viewer sees. */
  readonly lines: readonly SheetLine[];
}

export interface SheetDrawing {
  readonly title: string;
  readonly outline: readonly SheetLine[];
  readonly contours: readonly SheetLine[];
  readonly tapes: readonly SheetTape[];
  readonly marks: readonly { readonly id: string; readonly at: readonly [number, number] }[];
  /** Height on the paper of the rest plane, where it is seen on edge. */
  readonly restLine: number | null;
}

export interface SheetMark {
  readonly id: string;
  readonly kind: string;
  readonly centre: readonly [number, number, number];
  readonly depth: number;
  readonly length: number;
  readonly width: number;
  readonly decision: string;
  readonly why: string;
}
