import type { EaseRule, LastRules } from '@cast-to-last/pipeline/rules/last-rules';

/** One number of the last's rules as it is set at the bench; null: as the cast has it. */
export interface AllowanceField {
  readonly id: string;
  readonly label: string;
  readonly unit: 'mm' | '%';
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** What a field that was off begins with. */
  readonly begin: number;
  readonly mayBeOff: boolean;
  read(rules: LastRules): number | null;
  write(rules: LastRules, value: number | null): LastRules;
}

const easeOf = (girth: keyof LastRules['ease'], label: string) => (rule: EaseRule): AllowanceField => {
  const unit = 'mm' in rule ? 'mm' : '%';
  return {
    id: `ease-${girth}`, label, unit, least: unit === 'mm' ? -15 : -6, most: unit === 'mm' ? 25 : 10, step: 0.5, begin: 0, mayBeOff: false,
    read: ({ ease }) => ('mm' in ease[girth] ? ease[girth].mm : ease[girth].percent),
    write: (rules, value) => ({ ...rules, ease: { ...rules.ease, [girth]: unit === 'mm' ? { mm: value ?? 0 } : { percent: value ?? 0 } } }),
  };
};

/** The fields for these rules; an ease is in the unit in which the rules have it. @param toeHeight of the cast, mm; null where it is not known */
export const allowanceFields = (rules: LastRules, toeHeight: number | null): readonly AllowanceField[] => [
  {
    id: 'toe-allowance', label: 'toe allowance', unit: 'mm', least: 0, most: 30, step: 0.5, begin: 0, mayBeOff: false,
    read: ({ toeAllowanceMm }) => toeAllowanceMm, write: (r, value) => ({ ...r, toeAllowanceMm: value ?? 0 }),
  },
  {
    // A box is never lowered into the toes: what is set begins over them.
    id: 'toe-box-height', label: 'toe box height', unit: 'mm', least: 15, most: 60, step: 0.5, begin: toeHeight === null ? 25 : Math.min(60, Math.max(15, Math.ceil(2 * toeHeight + 2) / 2)), mayBeOff: true,
    read: ({ toeBox }) => toeBox.heightMm, write: (r, value) => ({ ...r, toeBox: { level: r.toeBox.level || value !== null, heightMm: value } }),
  },
  easeOf('ball', 'ease at the ball')(rules.ease.ball),
  easeOf('waist', 'ease at the waist')(rules.ease.waist),
  easeOf('instep', 'ease at the instep')(rules.ease.instep),
  {
    id: 'heel-height', label: 'heel height', unit: 'mm', least: 0, most: 120, step: 0.5, begin: 20, mayBeOff: true,
    read: ({ stance }) => stance.heelHeightMm, write: (r, value) => ({ ...r, stance: { ...r.stance, heelHeightMm: value } }),
  },
  {
    id: 'toe-spring', label: 'toe spring', unit: 'mm', least: 0, most: 60, step: 0.5, begin: 8, mayBeOff: true,
    read: ({ stance }) => stance.toeSpringMm, write: (r, value) => ({ ...r, stance: { ...r.stance, toeSpringMm: value } }),
  },
  {
    id: 'top-height', label: 'height of the top', unit: 'mm', least: 40, most: 300, step: 1, begin: 90, mayBeOff: true,
    read: ({ topHeightMm }) => topHeightMm, write: (r, value) => ({ ...r, topHeightMm: value, ...(value !== null && { top: { ...r.top, line: null } }) }),
  },
];
