/** How a rule that may be left open is chosen, by its pattern: left open, or set. */
export const NONE_WORDS: Readonly<Record<string, { readonly none: string; readonly some: string }>> = {
  'smoothing.marginMm': { none: 'Left to the program', some: 'Set to' },
  'last.stance.heelHeightMm': { none: 'As it was cast', some: 'Set to' },
  'last.stance.toeSpringMm': { none: 'As it was cast', some: 'Set to' },
  'last.toeBox.heightMm': { none: 'As high as the toes', some: 'Raised to' },
  'last.sole.featherRadiusMm': { none: 'As it was cast', some: 'Made with a radius of' },
  'last.topHeightMm': { none: 'Closed where the cast ends', some: 'Cut flat at' },
  'last.top.line': { none: 'No top line', some: 'Cut along a line' },
  'last.top.thimble': { none: 'No hole', some: 'A hole' },
};
export const ANY_NONE = { none: 'Left open', some: 'Set to' } as const;
