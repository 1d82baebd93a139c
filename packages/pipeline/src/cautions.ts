import { PLASTER_DUST_LIMITS } from '@cast-to-last/foot/published/plaster-dust';

const { niosh, osha } = PLASTER_DUST_LIMITS;

/** What every sheet says to whoever works from it, each with its source. */
export const CAUTIONS: readonly string[] = [
  'This sheet serves the making of a last. It is no medical advice and no diagnosis.',
  'Diabetes with intermediate or high risk of ulcers: footwear by an appropriately trained professional, reviewed every ' +
    '3 months (Diabetic Foot Australia 2018, doi 10.1186/s13047-017-0244-z).',
  'Custom-made footwear on a written prescription is a medical device in the EU (Regulation (EU) 2017/745, Art. 2(3), as ' +
    'quoted elsewhere): its maker has duties that this sheet does not fulfil.',
  'Plaster expands as it sets, by 0.2 to 0.3 % as is said in the trade, about 0.5 to 0.8 mm on a foot of 265 mm. The figures are those of the ' +
    'cast and are not corrected for it, nor for the load on the foot while it was cast.',
  `Sanding plaster makes dust: extract it and wear a mask. Limits, total / respirable: NIOSH ${niosh.total} / ${niosh.respirable}, ` +
    `OSHA ${osha.total} / ${osha.respirable} mg/m³ (NIOSH Pocket Guide npgd0518).`,
  'Plaster heats as it sets and can burn skin, the more so with hot dipping water and many layers; water below 24 °C was ' +
    'safe at every thickness tried (Halanski 2007, JBJS-A 89:2369).',
  'A scan of a foot is personal data: decide how long it is kept, and erase it then (GDPR Art. 5(1)(e)).',
];
