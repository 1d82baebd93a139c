import type { LastRules } from '@cast-to-last/pipeline/rules/last-rules';
import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { Random } from '../random.js';

/** Rules of a last as a workshop might set them, everything varied and much of it together. */
export function drawLastRules(random: Random): LastRules {
  const may = <T>(share: number, value: () => T, otherwise: T): T => (random.between(0, 1) < share ? value() : otherwise);
  const ease = (): { mm: number } | { percent: number } => may<{ mm: number } | { percent: number }>(0.7, () => ({ mm: random.between(-6, 8) }), { percent: random.between(-2, 3) });
  const level = random.between(0, 1) < 0.7;
  const rules = {
    plasterExpansionPercent: may(0.5, () => random.between(0.1, 0.4), 0),
    toeAllowanceMm: may(0.8, () => random.between(3, 18), 0),
    toeBox: { level, heightMm: level ? may<number | null>(0.4, () => random.between(22, 34), null) : null },
    stance: { heelHeightMm: may<number | null>(0.4, () => random.between(0, 35), null), toeSpringMm: may<number | null>(0.4, () => random.between(4, 18), null) },
    sole: { shape: random.pick(['as-cast', 'fair', 'flat'] as const), featherRadiusMm: may<number | null>(0.6, () => random.between(1, 5), null) },
    ease: { ball: may(0.7, ease, { mm: 0 }), waist: may(0.6, ease, { mm: 0 }), instep: may(0.6, ease, { mm: 0 }) },
    top: {
      coneMm: may(0.3, () => random.between(5, 30), 0),
      thimble: may<{ diameterMm: number; depthMm: number } | null>(0.4, () => ({ diameterMm: random.between(12, 20), depthMm: random.between(15, 40) }), null),
      label: random.pick(['none', 'engraved', 'raised'] as const),
      stationMarks: random.between(0, 1) < 0.5,
    },
  };
  return parseRules({ last: rules }).last;
}
