import type { RuleUnit, RuleWords, RuleWordsTable } from './rule-words.js';

/** A limit in two steps. */
const band = (path: string, title: string, description: string, unit: RuleUnit, beyond = 'beyond'): RuleWordsTable => ({
  [path]: { title, description },
  [`${path}.care`]: { title: `${title}: care`, unit, description: `A cast ${beyond} this is usable with care.` },
  [`${path}.recast`]: { title: `${title}: new cast`, unit, description: `A cast ${beyond} this has to be taken again.` },
});

const stance = (path: string, what: RuleWords): RuleWordsTable => ({
  [path]: what,
  [`${path}.forwardLeanDeg`]: { title: 'Wanted forward lean', unit: '°', description: 'Lean of the shank against the floor\'s vertical that is wanted; the top to the toes is positive.' },
  ...band(`${path}.forwardLean`, 'Forward lean', 'How far the forward lean may lie from the wanted one.', '°'),
  [`${path}.rearViewDeg`]: { title: 'Wanted rear view', unit: '°', description: 'Lean of the Achilles line seen from behind that is wanted; the top to the inner side is positive.' },
  ...band(`${path}.rearView`, 'Rear view', 'How far the Achilles line may lie from the wanted lean.', '°'),
});

/** The limits of the cast check. */
export const CHECK_WORDS: RuleWordsTable = {
  check: { title: 'Cast check', description: 'How far a cast may lie from what is wanted before it needs care or has to be taken again.' },
  'check.aboveAnkleMm': { title: 'Above the ankle', unit: 'mm', description: 'How far the cast shall reach above the inside ankle bone.' },
  'check.disciplines': { title: 'Kinds of footwear', description: 'How the leg shall stand for each kind of footwear. A workshop may add its own; an order that names none of them has "other".' },
  ...stance('check.disciplines.*', { title: 'Kind of footwear', description: 'How the leg shall stand for this kind of footwear.' }),
  ...stance('check.disciplines.cycling-type', { title: 'Cycling-type', description: 'How the leg shall stand for cycling-type footwear.' }),
  ...stance('check.disciplines.skating-type', { title: 'Skating-type', description: 'How the leg shall stand for skating-type footwear.' }),
  ...stance('check.disciplines.other', { title: 'Other', description: 'How the leg shall stand where the order names no kind that is listed.' }),
  ...band('check.soleBend', 'Bend of the sole', 'Angle between the two sole planes against that of the footbed.', '°'),
  ...band('check.heelOnPlate', 'Heel on its plate', 'Heel seat lifted or tilted off the rear plate.', '°'),
  ...band('check.ballOnHinge', 'Ball on the hinge', 'The crease of the sole against the inside of the ball, along the foot.', 'mm'),
  ...band('check.forefootTwist', 'Twist of the forefoot', 'Roll of the front sole against the rear.', '°'),
  ...band('check.soleFlatness', 'Flatness of the sole', 'Departure of the soles from their planes where they shall lie on the plates, root of the mean square.', 'mm'),
  ...band('check.toeBox', 'Breadth of the toes', 'Breadth of the toe box as a share of the ball width: less looks squeezed.', 'share', 'below'),
  ...band('check.beyondToes', 'Beyond the toes', 'Bandage folded beyond the toes.', 'mm'),
  ...band('check.closing', 'Closing of the cut', 'Error of girth by cut edges that gape or overlap, at ball, waist or instep.', 'mm'),
  ...band('check.cutStep', 'Step along the cut', 'Height of a step along the cut.', 'mm'),
  ...band('check.madeUp', 'Surface made up', 'Share of the surface that was not scanned and had to be made up.', '%'),
  'check.tapePercent': { title: 'Against the tape', unit: '%', description: 'A measure of the cast that differs from the customer\'s tape by more than this gets a note.' },
  'check.plyMm': { title: 'Thickness of a ply', unit: 'mm', description: 'Thickness of one layer of bandage, for shells whose wall was not measured.' },
  'check.pair': { title: 'Left and right', description: 'How much the two feet of a customer may differ before that is a finding.' },
  'check.pair.lengthMm': { title: 'Length', unit: 'mm', description: 'Difference of lengths that feet usually stay under.' },
  'check.pair.girthMm': { title: 'Girths', unit: 'mm', description: 'Difference of girths that feet usually stay under.' },
  'check.pair.pitchDeg': { title: 'Pitch', unit: '°', description: 'Difference of pitches beyond which one of both casts was taken in another position.' },
  'check.pair.leanDeg': { title: 'Lean', unit: '°', description: 'Difference of leans beyond which one of both casts was taken in another position.' },
};
