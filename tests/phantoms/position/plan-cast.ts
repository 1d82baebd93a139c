import type { Casting, Footbed } from '@cast-to-last/pipeline/order';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { stanceFor } from '@cast-to-last/pipeline/rules/check-rules';
import { ODDITIES } from '../foot/foot-parameters.js';
import type { PhantomOptions } from '../phantom-options.js';
import { randomFrom, type Random } from '../random.js';
import { PLANTED_ERRORS, type PlantedError } from './plan-errors.js';
import type { Position } from './position.js';

/** A cast to be made, what its order says, and what is wrong with it. */
export interface CastPlan {
  readonly seed: number;
  readonly options: PhantomOptions & { readonly position: Position };
  readonly casting: Casting;
  /** Of the plates as the order has them, degrees; 0 without a bed. */
  readonly heelPitchDeg: number;
  readonly toePitchDeg: number;
  readonly bed: string;
  /** Null: a sound cast. */
  readonly planted: PlantedError | null;
}

/** Of every 60 seeds in a row the first 24 are sound casts, then comes each error once. */
const SOUND = 24;
export const CYCLE = SOUND + PLANTED_ERRORS.length;

const DEGREE = Math.PI / 180;
/** Of the bed where an error of bend or hinge is planted. */
const LEAST_BEND_DEG = 10;

/** A bed of plates as it would be measured, to half a millimetre, with its pitches in degrees. */
function footbed(random: Random, heelDeg: number, toeDeg: number): { bed: Footbed; heel: number; toe: number } {
  const heelToHingeMm = random.whole(165, 205);
  const hingeToToeMm = random.whole(75, 110);
  const hingeHeightMm = random.whole(0, 12);
  const height = (length: number, angle: number): number => hingeHeightMm + Math.round(2 * length * Math.sin(angle * DEGREE)) / 2;
  const bed = { heelToHingeMm, hingeToToeMm, hingeHeightMm, heelHeightMm: height(heelToHingeMm, heelDeg), toeHeightMm: height(hingeToToeMm, toeDeg) };
  return {
    bed,
    heel: Math.asin((bed.heelHeightMm - hingeHeightMm) / heelToHingeMm) / DEGREE,
    toe: Math.asin((bed.toeHeightMm - hingeHeightMm) / hingeToToeMm) / DEGREE,
  };
}

const BEDS = ['flat floor', 'heel raised', 'toes raised', 'heel and toes raised', 'not in the order'] as const;

function pitches(kind: (typeof BEDS)[number], random: Random): [number, number] {
  const [heel, toe] = [random.between(3, 12), random.between(5, 14)];
  if (kind === 'flat floor') return [0, 0];
  if (kind === 'heel raised') return [heel + 2, 0];
  if (kind === 'toes raised') return [random.between(0, 2), toe];
  return [heel, toe];
}

/** The plan of a seed: always the same one. Sound casts vary within what a careful caster reaches. */
export function planCast(seed: number, triangles: number): CastPlan {
  const place = seed % CYCLE;
  const planted = place < SOUND ? null : PLANTED_ERRORS[place - SOUND];
  const random = randomFrom(seed, 'plan');
  // Every sound bed in turn; an error needs an order to be one against.
  const kind = planted === null ? BEDS[place % BEDS.length] : random.pick(planted.onHinge ? BEDS.slice(1, 4) : BEDS.slice(0, 4));
  const asked = pitches(kind, random.fork('pitches'));
  // A hinge can be told from the crease of plates that are bent enough.
  const lacks = planted?.onHinge ? Math.max(0, LEAST_BEND_DEG - asked[0] - asked[1]) : 0;
  const { bed, heel, toe } = footbed(random.fork('bed'), asked[0] + (asked[0] > asked[1] ? lacks : 0), asked[1] + (asked[0] > asked[1] ? 0 : lacks));
  const ordered = kind !== 'not in the order';
  const discipline = random.pick(['cycling-type', 'skating-type', undefined]);
  const { stance } = stanceFor(DEFAULT_RULES.check, discipline);
  const letOut = random.chance(0.2) ? random.between(-5, -2) : null;
  const rules = DEFAULT_RULES.check;

  const careful = random.fork('careful');
  const within = (sd: number): number => careful.normalWithin(0, sd, 2.2);
  const off = (share: number | undefined, limit: number, sd: number): number => (share === undefined ? within(sd) : share * limit);
  const lean = stance.forwardLeanDeg + off(planted?.leanOff, stance.forwardLean.recast, 1.5);
  const sound: Position = {
    bendDeg: heel + toe + off(planted?.bendOff, rules.soleBend.recast, 0.5),
    hingeMm: off(planted?.hingeOff, rules.ballOnHinge.recast, 1.8),
    yawDeg: planted?.hingeOff === undefined ? within(1.2) : 0,
    pressMm: careful.between(2.6, 4),
    leanInFrameDeg: lean - heel,
    rearViewDeg: (letOut ?? stance.rearViewDeg) + off(planted?.rearViewOff, stance.rearView.recast, 1.2),
    exact: planted?.bendOff !== undefined || planted?.hingeOff !== undefined,
  };
  const limits = { twist: rules.forefootTwist.recast, heelOnPlate: rules.heelOnPlate.recast, toeBox: rules.toeBox };
  const position: Position = { ...sound, ...planted?.change?.(sound, limits, random.fork('error')) };
  const odd = random.chance(0.5) ? [random.pick(ODDITIES)] : [];
  return {
    seed,
    planted,
    bed: kind,
    heelPitchDeg: ordered ? heel : 0,
    toePitchDeg: ordered ? toe : 0,
    casting: {
      ...(discipline ? { discipline } : {}),
      ...(ordered ? { footbed: bed } : {}),
      ...(letOut === null ? {} : { plan: { rearViewDeg: letOut } }),
      load: 'seated',
    },
    options: { triangles, denseTriangles: Math.min(triangles, 60_000), oddities: odd, position, missingSole: false, rise: planted?.rise ?? random.between(55, 110) },
  };
}
