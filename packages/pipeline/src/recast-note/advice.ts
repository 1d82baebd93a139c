/** A text; or two, of which the first is for above and the second for below. `{aboveAnkle}` stands for the rule's millimetres. */
export type Words = string | readonly [above: string, below: string];

/** What the note says of a finding, for somebody who casts a foot at home. */
export interface Advice {
  /** What is wrong with the cast, without a full stop; two where it depends on whether more or less was wanted. */
  readonly title: Words;
  /** What to do differently; two as above. */
  readonly next: Words;
  /** Findings of one topic are told once, for the worst of them; the code itself where absent. */
  readonly topic?: string;
  /** Round the measured figure, for which `#` stands; two where it depends on its sign. Nothing is said where absent. */
  readonly measured?: Words;
  /** The same round the wanted figure. */
  readonly wanted?: Words;
  /** In place of `wanted` where 0 is wanted. */
  readonly wantedNone?: string;
}

const STEADY = 'Ask somebody to help, and keep the foot still until the plaster is hard.';
const CLOSED_CUT: Omit<Advice, 'measured' | 'wanted'> = {
  topic: 'cut',
  title: ['The cut was not closed again', 'The edges of the cut overlap'],
  next: [
    'Bring the two edges of the cut together until they just touch, and tape the cast shut round the ball, the middle and the ankle before you pack it.',
    'Lay the two edges of the cut against each other, not over each other, and tape the cast shut round the ball, the middle and the ankle before you pack it.',
  ],
};
const GAP: Pick<Advice, 'measured' | 'wanted'> = { measured: ['the edges stand # apart', 'the edges overlap by #'], wanted: 'edges that just touch' };

/**
 * All texts of the note that speak of one finding, by the finding's code. What stands here as a way of casting is common
 * practice, no source. A code that is missing here is no matter of the customer's, unless it asks for a new cast.
 */
export const ADVICE: Readonly<Record<string, Advice>> = {
  'stops-short': {
    title: 'The cast ends too low on the leg',
    next: 'Wrap the bandage up to about {aboveAnkle}\u00a0mm above the ankle bone on the inner side, all the way round.',
    measured: 'it reaches up to #', wanted: 'wanted: #',
  },
  'surface-made-up': {
    title: 'Parts of the cast are missing',
    next: 'Wrap every place at least twice and press the bandage down everywhere; when it is dry, pack it so that nothing can break off.',
    measured: '# of the surface is missing',
  },
  'sole-bend': {
    title: ['The sole is bent more than the footbed', 'The sole is bent less than the footbed'],
    next: [
      `Let heel and ball stand on their plates of the footbed and let the toes lie; do not press the heel up or pull the toes. ${STEADY}`,
      `Let the heel stand on the rear plate and the ball and toes on the front plate, so that the foot bends with the footbed. ${STEADY}`,
    ],
    measured: 'the sole bends by #', wanted: 'the footbed by #',
  },
  'heel-on-plate': {
    title: ['The heel was lifted', 'The heel was pressed down at its back'],
    next: [
      `Let the whole heel stand on the rear plate. Sit so that the knee is over the foot, not far in front of it. ${STEADY}`,
      `Let the whole heel stand on the rear plate, without leaning back on it. ${STEADY}`,
    ],
    measured: ['the heel is lifted by #', 'the heel is tilted back by #'], wanted: 'flat on the plate',
  },
  'ball-on-hinge': {
    title: ['The foot stood too far back on the footbed', 'The foot stood too far forward on the footbed'],
    next: [
      'Feel for the inside of the ball, mark it with a pen, and move the foot forward until the mark is over the hinge.',
      'Feel for the inside of the ball, mark it with a pen, and move the foot back until the mark is over the hinge.',
    ],
    measured: ['the hinge lies # ahead of the ball', 'the hinge lies # behind the ball'], wanted: 'the hinge at the ball',
  },
  'forward-lean': {
    title: ['The lower leg leaned too far forward', 'The lower leg did not lean forward enough'],
    next: [
      `Move the foot forward or the chair back until the lower leg stands nearly upright, seen from the side. ${STEADY}`,
      `Move the foot back or the chair forward until the knee is a little ahead of the ankle, seen from the side. ${STEADY}`,
    ],
    measured: ['it leaned forward by #', 'it leaned back by #'], wanted: ['wanted: # forward', 'wanted: # back'], wantedNone: 'wanted: upright',
  },
  'rear-view': {
    title: ['The knee fell inward', 'The leg leaned outward'],
    next: [
      'Let somebody look from behind: the heel cord shall run as on the picture. Move the knee outward until it does, and keep it there.',
      'Let somebody look from behind: the heel cord shall run as on the picture. Move the knee inward until it does, and keep it there.',
    ],
    measured: ['it leaned inward by #', 'it leaned outward by #'], wanted: ['wanted: # inward', 'wanted: # outward'], wantedNone: 'wanted: upright',
  },
  'forefoot-twist': {
    title: ['The inner edge of the forefoot was lifted', 'The outer edge of the forefoot was lifted'],
    next: [
      `Let the ball of the big toe rest on the front plate as firmly as that of the little toe. ${STEADY}`,
      `Let the ball of the little toe rest on the front plate as firmly as that of the big toe. ${STEADY}`,
    ],
    measured: 'lifted by #', wanted: 'wanted: #', wantedNone: 'wanted: level',
  },
  'sole-flatness': {
    title: 'The sole is uneven',
    next: 'Set the wrapped foot down on the footbed once, with a smooth sheet between, and leave it: do not press the bandage up from below, rock the foot or lift it.',
    measured: 'uneven by #',
  },
  'toe-box': {
    title: 'The toes look squeezed together',
    next: 'Let the toes lie side by side as they like, without a tight sock, and wind the bandage round them loosely.',
    measured: 'toes # as broad as the ball', wanted: 'wanted: at least #',
  },
  'beyond-toes': {
    title: 'We cannot see where the toes end',
    next: 'Let the bandage run 25 to 50\u00a0mm beyond the toes, fold it back over them and press it flat against the tips of the toes.',
    measured: '# of bandage ahead of the toes', wanted: 'where the toes may end',
  },
  'toes-closed': {
    title: 'The toes are open or cut off',
    next: 'Let the bandage run 25 to 50\u00a0mm beyond the toes and fold it back over them, so that the cast is closed at the front.',
  },
  'closing-ball': { ...CLOSED_CUT, ...GAP },
  'closing-waist': { ...CLOSED_CUT, ...GAP },
  'closing-instep': { ...CLOSED_CUT, ...GAP },
  'cut-step': {
    topic: 'cut',
    title: 'One edge of the cut stands higher than the other',
    next: 'Lay the two edges of the cut level with each other before you tape the cast shut, and look along the cut whether it runs smoothly.',
    measured: 'a step of #',
  },
  buckled: {
    title: 'The wall of the cast is buckled',
    next: 'Let the cast become hard before you cut it, open it only as far as the foot needs to slip out, and press no dent into it.',
  },
  warped: {
    title: 'The cast has gone out of shape',
    next: 'Let it dry through, standing free, before you pack it; fill it with crumpled paper and pack it so that nothing presses on it.',
  },
  'wall-thin': {
    topic: 'wall',
    title: 'The wall of the cast is thin in places',
    next: 'Overlap each turn of the bandage by half and give every place the same number of layers, the sides and the heel too.',
  },
  'wall-broken': {
    topic: 'wall',
    title: 'The wall of the cast is broken through',
    next: 'Give every place the same number of layers, let the cast dry through, and pack it so that nothing presses on it.',
    measured: 'over #',
  },
  pair: {
    title: 'Your two casts do not match each other',
    next: 'Cast both feet on the same day and in the same way: the same seat, the same footbed, the same weight on the foot, the same bandage.',
  },
};

/** For what asks for a new cast and has no words above. */
export const OTHER_ADVICE: Advice = {
  title: 'The shape of the cast cannot be right',
  next: 'Please ask us before you cast again: we will go through it with you.',
};

/** The advice on a finding's code; null where it is no matter of the customer's. */
export function adviceOn(code: string): Advice | null {
  if (Object.hasOwn(ADVICE, code)) return ADVICE[code];
  return code.startsWith('pair-') ? { ...ADVICE.pair, topic: 'pair' } : null;
}
