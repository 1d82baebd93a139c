/**
 * Everything that stands on a measurement sheet. The sheet draws and formats it; it computes no number of its own.
 * Lengths are mm; drawings are in mm of the cast, right and up on the paper. What has a fixed set of meanings is a code:
 * the words for it are the sheet's.
 */
export interface SheetContent {
  readonly paper: Paper;
  readonly language: SheetLanguage;
  /** Whether inches stand beside the millimetres. */
  readonly inches: boolean;
  readonly orderNumber: string;
  readonly customerNumber: string | null;
  readonly remarks: string | null;
  readonly side: FootSide;
  /** ISO date, or null where the caller gives none. */
  readonly date: string | null;
  /** What the QR code says, to find the record by. */
  readonly record: string;
  /** Of all that the report says of cast and last, but for how long it took. */
  readonly fingerprint: string;
  /** Who approved the last, and the ISO date; null leaves lines to sign on. */
  readonly approval: { readonly by: string; readonly on: string } | null;
  readonly verdict: SheetVerdict;
  /** Label and text, in order: scan file, kind of scan, unit, rule set, program version. */
  readonly particulars: readonly SheetParticular[];
  /** How the cast was taken, likewise. */
  readonly casting: readonly SheetParticular[];
  readonly measures: readonly SheetMeasure[];
  /** Which cast stands beside this one in the measures; null where there is none. */
  readonly other: FootSide | 'same' | null;
  readonly sizes: SheetSizes;
  readonly changes: readonly SheetChange[];
  /** Height at which the last is cut flat; null where it is not, and where the changes say so. */
  readonly flatTopMm: number | null;
  /** Worst first. */
  readonly findings: readonly { readonly severity: SheetSeverity; readonly text: string }[];
  readonly readings: readonly SheetReading[];
  /** Why some could not be taken or weighed. */
  readonly reasons: readonly string[];
  readonly warnings: readonly string[];
  /** Side profile and sole. */
  readonly outlines: readonly SheetOutline[];
  readonly sections: readonly SheetSection[];
  readonly map: readonly SheetMapView[];
  readonly marks: readonly SheetMark[];
  readonly cautions: readonly string[];
}

export type Paper = 'a4' | 'letter';
export type SheetLanguage = 'en' | 'de';
export type FootSide = 'left' | 'right';
export type SheetVerdict = 'usable' | 'usable-with-care' | 'recast';
export type SheetSeverity = 'note' | 'care' | 'recast';

export interface SheetParticular {
  readonly label: string;
  readonly text: string;
}

export interface SheetFigure {
  readonly value: number;
  readonly uncertainty: number;
}

export interface SheetMeasure {
  readonly id: string;
  /** Of its tape in the drawings; '' where it has none. */
  readonly letter: string;
  readonly label: string;
  readonly unit: 'mm' | 'deg';
  /** null where absent; the remark says why. */
  readonly cast: SheetFigure | null;
  readonly last: SheetFigure | null;
  /** Last less cast; null where one is absent. */
  readonly change: number | null;
  /** Of the other cast; null where it has none. */
  readonly other: SheetFigure | null;
  /** This cast less the other one. */
  readonly difference: number | null;
  readonly remark: string;
}

export interface SheetSizes {
  readonly mondopoint: number | null;
  readonly parisPoint: number | null;
  readonly uk: number | null;
  readonly usMen: number | null;
  readonly usWomen: number | null;
}

/** One change from cast to last; before, asked and got in `unit`. */
export interface SheetChange {
  readonly id: string;
  readonly label: string;
  readonly unit: 'mm' | 'deg' | '%';
  readonly before: number;
  /** Null for what is told and not asked for. */
  readonly asked: number | null;
  readonly got: number;
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
  /** The parts of the tape that the viewer sees. */
  readonly lines: readonly SheetLine[];
}

/** The cast and the last seen from one side, to be drawn true to size. */
export interface SheetOutline {
  readonly view: 'profile-outer' | 'profile-inner' | 'sole';
  readonly cast: readonly SheetLine[];
  readonly last: readonly SheetLine[];
  readonly contours: readonly SheetLine[];
  readonly tapes: readonly SheetTape[];
  /** The edge between sole and upper, where the rules made one and the view shows it. */
  readonly feather: readonly SheetLine[];
  /** Height on the paper of the rest plane, where it is seen on edge. */
  readonly restLine: number | null;
  /** A ruler along the heel-ball axis under the drawing: from the place of the heel, to the right (1) or left (−1) on the paper. */
  readonly ruler: { readonly zero: number; readonly direction: 1 | -1; readonly length: number };
}

/** Cast and last cut in the plane of one tape, seen from behind. */
export interface SheetSection {
  readonly letter: string;
  readonly label: string;
  readonly cast: readonly SheetLine[];
  readonly last: readonly SheetLine[];
  /** The tape round the last, or round the cast where the last has none. */
  readonly tape: SheetLine | null;
  readonly castGirth: SheetFigure | null;
  readonly lastGirth: SheetFigure | null;
  /** Where the inner side of the foot lies on the paper. */
  readonly inside: 'left' | 'right';
}

export interface SheetMapView {
  readonly view: 'top' | 'sole' | 'inner' | 'outer';
  readonly cast: readonly SheetLine[];
  readonly last: readonly SheetLine[];
  readonly contours: readonly SheetLine[];
  /** Where the last lies further than `beyond` mm outside (positive) or inside (negative) of the cast, the least first. */
  readonly changes: readonly { readonly beyond: number; readonly areas: readonly SheetLine[] }[];
  /** The most in each place, mm. */
  readonly peaks: readonly { readonly at: readonly [number, number]; readonly value: number }[];
  readonly marks: readonly { readonly number: number; readonly decision: SheetDecision; readonly at: readonly [number, number]; readonly areas: readonly SheetLine[] }[];
}

export type SheetDecision = 'smooth' | 'keep' | 'ask';

export interface SheetMark {
  readonly number: number;
  readonly id: string;
  readonly kind: 'dent' | 'bump' | 'ridge' | 'seam';
  readonly centre: readonly [number, number, number];
  readonly depth: number;
  readonly length: number;
  readonly width: number;
  readonly decision: SheetDecision;
  readonly why: string;
}
