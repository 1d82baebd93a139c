/** Remedies that are worded for the command line or for programs, in the words of the pages. By the code of the refusal. */
const REMEDIES: Readonly<Record<string, string>> = {
  'side-contradiction': 'Check the label on the cast, then say which foot it is, or scan again.',
  'side-not-ordered': 'Check the label on the cast, or change the order.',
  'unit-ambiguous': 'Name the unit of the file.',
  'size-not-foot': 'Check that the right file was chosen; cut table and stand out of the scan, or name the unit of the file if the size is right.',
  'wall-unknown': 'Measure the wall at the cut edge and give it here or in the order; the layers of bandage will do where it cannot be measured.',
  'wall-too-thick': 'Check the wall, and that the file is the scan of the outside.',
  'not-a-photo': 'Take it with the camera of this device, or save it as JPEG or PNG.',
  'no-ball-found': 'Check diameter and unit; scan the ball matt, from several sides, free of clutter.',
  'second-ball-not-found': 'Scan the gauge with both balls in one scan, or leave the distance out.',
  'ball-spacing-mismatch': 'Check the distance, which runs from centre to centre, and that the right gauge was scanned.',
};

/** What to do about a refusal, where one reads it. */
export const remedyOf = ({ code, remedy }: { readonly code: string; readonly remedy: string }): string => REMEDIES[code] ?? remedy;
