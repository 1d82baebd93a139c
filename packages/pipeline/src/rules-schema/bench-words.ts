import type { RuleWordsTable } from './rule-words.js';

/** Marks, smoothing, the scanner and the sheet. */
export const BENCH_WORDS: RuleWordsTable = {
  '': { title: 'Rules', description: 'What the workshop decides once and every cast obeys.' },
  name: { title: 'Name', description: 'The workshop\'s name for these rules; it stands on the sheet and in the report.' },
  version: { title: 'Version', description: 'The workshop\'s version of these rules; it stands on the sheet and in the report.' },

  marks: { title: 'Marks', description: 'Which dents, bumps, ridges and seams are found, and what becomes of them.' },
  'marks.minDepthMm': { title: 'Least depth', unit: 'mm', description: 'A dent, bump or ridge of less depth is not reported.' },
  'marks.depthThresholdMm': { title: 'Smoothed up to', unit: 'mm', description: 'Marks up to this depth are smoothed, deeper ones are asked of the maker. Not less than the least depth.' },
  'marks.landmarkDistanceMm': { title: 'Distance to landmarks', unit: 'mm', description: 'A dent or bump nearer than this to a landmark that a measure uses is asked of the maker.' },
  'marks.findSeam': { title: 'Look for the seam', description: 'Look for the seam of a cast that was cut open along the top of the foot.' },
  'marks.findRidges': { title: 'Look for ridges', description: 'Look for the ridges that bandage edges leave.' },
  'marks.protect': { title: 'Protected ground', description: 'Places on which every mark is kept, as they are in the foot frame of the report.' },
  'marks.protect[]': { title: 'Protected place', description: 'A ball of ground on which every mark is kept.' },
  'marks.protect[].centre': { title: 'Centre', description: 'Where it lies in the foot frame: along the foot, across it, and up.' },
  'marks.protect[].centre[]': { title: 'Coordinate', unit: 'mm', description: 'One coordinate in the foot frame.' },
  'marks.protect[].radiusMm': { title: 'Radius', unit: 'mm', description: 'How far the protected ground reaches from its centre.' },
  'marks.protect[].why': { title: 'Reason', description: 'Why this ground is protected; the report repeats it.' },

  smoothing: { title: 'Smoothing', description: 'How marks are taken off the cast.' },
  'smoothing.seam': { title: 'Seam', description: 'What becomes of a seam.', choices: { smooth: 'Smooth it', ask: 'Ask the maker' } },
  'smoothing.ridges': { title: 'Ridges', description: 'What becomes of ridges.', choices: { smooth: 'Smooth them', ask: 'Ask the maker' } },
  'smoothing.marginMm': { title: 'Margin', unit: 'mm', description: 'How far the replaced patch reaches beyond the visible mark. Empty leaves it to the program.' },

  scanner: { title: 'Scanner', description: 'How true a scanner has to be, by its check with gauge balls.' },
  'scanner.maxFormMm': { title: 'Most form error', unit: 'mm', description: 'How far the points of a ball may lie from a true ball: thickness of the shell that holds 95 % of them.' },
  'scanner.maxSizeMm': { title: 'Most size error', unit: 'mm', description: 'How far the measured diameter of a ball may lie from the calibrated one, either way.' },
  'scanner.maxSpacingMm': { title: 'Most spacing error', unit: 'mm', description: 'How far the measured distance of two balls may lie from the calibrated one, either way.' },
  'scanner.validDays': { title: 'Good for', unit: 'days', description: 'How long a check is good before casts are warned of it.' },

  sheet: { title: 'Sheet', description: 'How the measurement sheet is drawn.' },
  'sheet.paper': { title: 'Paper', description: 'Paper of the sheet.', choices: { a4: 'A4', letter: 'Letter' } },
  'sheet.language': { title: 'Language', description: 'Language of the sheet.', choices: { en: 'English', de: 'German' } },
  'sheet.inches': { title: 'Inches', description: 'Inches beside the millimetres.' },
};
