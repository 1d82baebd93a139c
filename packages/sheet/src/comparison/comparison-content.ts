import type { FootSide, Paper, SheetLanguage, SheetMapView, SheetParticular, SheetSeverity } from '../measurement/content.js';

/**
 * Everything that stands on the comparison of two casts or lasts. It is drawn and formatted, no number is computed. Lengths
 * are mm, differences first less second; the map is in mm of the second, its `cast` the second body and its `last` the first.
 */
export interface ComparisonContent {
  readonly paper: Paper;
  readonly language: SheetLanguage;
  /** Whether inches stand beside the millimetres. */
  readonly inches: boolean;
  /** Which feet: "left, mirrored, and right". */
  readonly subject: string;
  /** What the two are called in tables and legend. */
  readonly names: readonly [string, string];
  /** What each of them is. */
  readonly bodies: readonly [readonly SheetParticular[], readonly SheetParticular[]];
  /** The side of the second. */
  readonly side: FootSide;
  readonly mirrored: boolean;
  readonly registration: { readonly rms: number; readonly usedShare: number };
  /** Height up to which they were compared. */
  readonly upTo: number;
  /** By part, the whole last. */
  readonly parts: readonly { readonly label: string; readonly median: number; readonly p95: number }[];
  readonly figures: readonly ComparisonFigure[];
  /** Worst first; the label is that of the figure, '' where it is about none. */
  readonly findings: readonly { readonly severity: SheetSeverity; readonly label: string; readonly text: string }[];
  /** Rules and program. */
  readonly particulars: readonly SheetParticular[];
  readonly map: readonly SheetMapView[];
}

/** A measure or a reading that both have. */
export interface ComparisonFigure {
  readonly label: string;
  readonly unit: 'mm' | 'deg' | '';
  readonly first: number;
  readonly second: number;
  readonly difference: number;
  /** Half-width of a 95 % interval of the difference. */
  readonly uncertainty: number;
  /** The difference that is wanted. */
  readonly expected: number;
  /** Null where the rules set none. */
  readonly limit: number | null;
  readonly beyond: boolean;
}
