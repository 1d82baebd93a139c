import type { Side } from '@cast-to-last/foot/side';
import { medialSign } from '@cast-to-last/foot/side';
import { bounds } from '@cast-to-last/geometry/mesh/mesh';
import type { SheetContent, SheetMapView, SheetMeasure, SheetOutline, SheetTape } from '@cast-to-last/sheet/measurement/content';
import type { ReportedMark } from '../report/report.js';
import { bodyViews, thinned } from './body-views.js';
import type { BodyViews, ViewName } from './body-views.js';
import { changesShown } from './change-areas.js';
import { changeField } from './change-field.js';
import { girthSections } from './girth-sections.js';
import { marksSeen } from './mark-areas.js';
import { seenLines } from './seen-lines.js';
import type { SheetShapes } from './sheet-shapes.js';
import { viewContours } from './view-contours.js';

/** Lengths in mm of the cast; true to size, an outline is within a quarter of a millimetre. */
const SAMPLE = 0.5;
/** Every so many samples one for contours and for the map of changes, which are drawn small. */
const CONTOUR_THIN = 2;
const CHANGE_THIN = 4;
/** Height between contour lines. */
const CONTOUR_STEP = 10;
/** The flat top is no part of the foot: what lies within this of it bears no change. */
const TOP_BAND = 0.8;

/** Letters of the girths' tapes, the same on every drawing and in the list of measures. */
export const GIRTH_LETTERS: Readonly<Record<string, string>> = {
  'ball-girth': 'A', 'waist-girth': 'B', 'instep-girth': 'C', 'short-heel-girth': 'D', 'long-heel-girth': 'E', 'ankle-girth': 'F',
};

/** Every drawing of the sheet. */
export function sheetDrawings(
  shapes: SheetShapes, measures: readonly SheetMeasure[], marks: readonly ReportedMark[], side: Side,
): Pick<SheetContent, 'outlines' | 'sections' | 'map'> {
  const cast = bodyViews(shapes.cast, side, SAMPLE);
  const last = bodyViews(shapes.last, side, SAMPLE);
  return {
    outlines: [outlineOf('profile-outer', 'outer', shapes, cast, last, side), outlineOf('sole', 'sole', shapes, cast, last, side)],
    sections: girthSections(shapes, measures, side),
    map: (['top', 'sole', 'inner', 'outer'] as const).map((name) => mapView(name, shapes, cast, last, marks)),
  };
}

function outlineOf(view: SheetOutline['view'], name: ViewName, shapes: SheetShapes, cast: BodyViews, last: BodyViews, side: Side): SheetOutline {
  const direction = name === 'sole' || medialSign(side) > 0 ? 1 : -1;
  return {
    view,
    cast: cast[name].outline,
    last: last[name].outline,
    contours: name === 'sole' ? viewContours(thinned(last.sole.view, CONTOUR_THIN), CONTOUR_STEP) : [],
    tapes: tapes(shapes, last, name),
    feather: name === 'sole' && shapes.featherLine.length > 0 ? seenLines(last.sole.view, shapes.featherLine) : [],
    restLine: name === 'sole' ? null : 0,
    ruler: { zero: 0, direction, length: bounds(shapes.last.positions)[3] },
  };
}

/** The tapes round the last, or round the cast where the last has none. */
function tapes({ stations }: SheetShapes, last: BodyViews, name: ViewName): SheetTape[] {
  return Object.entries(GIRTH_LETTERS).flatMap(([id, letter]) => {
    const station = stations.find((s) => s.id === id && s.on === 'last') ?? stations.find((s) => s.id === id);
    return station === undefined ? [] : [{ letter, lines: seenLines(last[name].view, station.line) }];
  });
}

function mapView(name: ViewName, { last: { positions }, castWholeTo, markPoints }: SheetShapes, cast: BodyViews, last: BodyViews, marks: readonly ReportedMark[]): SheetMapView {
  const ofCast = cast[name].view;
  const ofLast = last[name].view;
  const coarse = thinned(ofLast, CHANGE_THIN);
  const below = Math.min(castWholeTo, bounds(positions)[5]) - TOP_BAND;
  const field = changeField(coarse, thinned(ofCast, CHANGE_THIN), below);
  return {
    view: name,
    cast: cast[name].outline,
    last: last[name].outline,
    contours: viewContours(thinned(ofCast, CONTOUR_THIN), CONTOUR_STEP),
    ...changesShown(coarse, field),
    marks: marksSeen(ofCast, marks, markPoints),
  };
}
