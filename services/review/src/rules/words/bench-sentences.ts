import type { Sentences } from './sentence.js';

/** Marks, smoothing, scanner and sheet. */
export const BENCH_SENTENCES: Sentences = {
  'marks.minDepthMm': { '': 'Dents, bumps and ridges count from {} of depth on.' },
  'marks.depthThresholdMm': { '': 'Marks up to {} of depth are smoothed; deeper ones wait for the maker.' },
  'marks.landmarkDistanceMm': { '': 'A dent or bump within {} of a landmark that a measure uses waits for the maker.', '0': 'Marks beside landmarks are treated like any other.' },
  'marks.findSeam': { true: 'The seam of a cast that was cut open is looked for.', false: 'Seams are not looked for.' },
  'marks.findRidges': { true: 'Ridges of bandage edges are looked for.', false: 'Ridges are not looked for.' },
  'marks.protect': { item: 'Every mark within {radiusMm} of ({centre.0}, {centre.1}, {centre.2}) is kept: {why}.', none: 'No ground is protected on every cast.' },
  'smoothing.seam': { smooth: 'Seams are smoothed unasked.', ask: 'Every seam waits for the maker.' },
  'smoothing.ridges': { smooth: 'Ridges are smoothed unasked.', ask: 'Every ridge waits for the maker.' },
  'smoothing.marginMm': { '': 'A replaced patch reaches {} beyond the visible mark.', null: 'How far a replaced patch reaches beyond its mark is left to the program.' },
  'scanner.maxFormMm': { '': 'The points of a gauge ball may lie within a shell of {}.' },
  'scanner.maxSizeMm': { '': 'A gauge ball may be measured {} too large or too small.' },
  'scanner.maxSpacingMm': { '': 'The distance of two gauge balls may be measured {} off.' },
  'scanner.validDays': { '': 'A check of a scanner is good for {}.' },
  'sheet.paper': { a4: 'The sheet is drawn on A4.', letter: 'The sheet is drawn on Letter.' },
  'sheet.language': { en: 'The sheet is in English.', de: 'The sheet is in German.' },
  'sheet.inches': { true: 'Inches stand beside the millimetres.', false: 'The sheet has millimetres alone.' },
};
