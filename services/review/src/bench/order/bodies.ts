import type { BodyName } from '../scene/foot-stand.js';

export const BODIES: readonly { readonly name: BodyName; readonly word: string; readonly key: string }[] = [
  { name: 'scan', word: 'scan', key: 'Q' },
  { name: 'cleaned', word: 'cleaned', key: 'W' },
  { name: 'last', word: 'last', key: 'E' },
];
