import type { Sentences } from './sentence.js';

const ease = (girth: string): Sentences[string] => ({ '': `The ${girth} girth of the last is {} against the foot's own.`, none: `The ${girth} girth stays as the foot has it.` });

/** From the cleaned cast to the last. */
export const LAST_SENTENCES: Sentences = {
  'last.plasterExpansionPercent': { '': '{} of every length is taken out for the expansion of the plaster.', '0': 'Nothing is taken out for the expansion of the plaster.' },
  'last.stance.heelHeightMm': { '': 'The heel seat stands {} over the floor.', null: 'The heel stands as high as it was cast.' },
  'last.stance.toeSpringMm': { '': 'The toe end of the sole springs {} over the floor.', null: 'The toes spring as they were cast.' },
  'last.toeAllowanceMm': { '': '{} is added ahead of the longest toe.', '0': 'Nothing is added ahead of the toes.' },
  'last.toeBox.level': { true: 'Webs are bridged and toes levelled to a smooth box.', false: 'The toes stay as they were cast.' },
  'last.toeBox.heightMm': { '': 'The toe box is raised to {} where the toes are lower.', null: 'The toe box is as high as the toes.' },
  'last.sole.shape': { 'as-cast': 'The sole stays as it was cast.', fair: 'Texture and small marks are taken off the sole.', flat: 'Tread and heel seat are made flat across.' },
  'last.sole.featherRadiusMm': { '': 'The feather line is made crisp with a radius of {}.', null: 'The edge between sole and upper stays as it was cast.' },
  'last.ease.ball': ease('ball'),
  'last.ease.waist': ease('waist'),
  'last.ease.instep': ease('instep'),
  'last.topHeightMm': { '': 'The last is cut flat {} above the plane that it stands on.', null: 'The last is not cut at a height: it is closed where the cast ends.' },
  'last.top.line': { '': 'The last is cut along a top line, {backMm} high at the back of the heel and {frontMm} at the front of the instep.', null: 'The last is not cut along a top line.' },
  'last.top.coneMm': { '': 'The cone goes on {} above the cut.', '0': 'No cone goes on above the cut.' },
  'last.top.thimble': { '': 'A thimble hole, {diameterMm} wide and {depthMm} deep, is drilled into the middle of the top.', null: 'The top has no thimble hole.' },
  'last.top.pins': { item: 'A pin hole, {diameterMm} wide and {depthMm} deep, stands at {along} of the way along the top and {across} of the way across.', none: 'The top has no pin holes.' },
  'last.top.label': { none: 'The top bears no number.', engraved: 'Order number and side are engraved on the top.', raised: 'Order number and side stand raised on the top.' },
  'last.top.labelDepthMm': { '': 'Strokes of the number are {} deep, or high.' },
  'last.top.stationMarks': { true: 'The midline and the lines of heel and ball are engraved.', false: 'No station lines are engraved.' },
};
