import { parseRules } from '@cast-to-last/pipeline/rules/rules';
import type { RuleSet } from '@cast-to-last/pipeline/rules/rules';

/** Everything that the rules can make of a last, at once and in usual amounts; printed hollow, split by a wedge. */
export const EVERY_RULE: RuleSet = parseRules({
  last: {
    plasterExpansionPercent: 0.25,
    stance: { heelHeightMm: 30, toeSpringMm: 12 },
    toeAllowanceMm: 12,
    toeBox: { level: true, heightMm: 30 },
    sole: { shape: 'flat', featherRadiusMm: 2 },
    ease: { ball: { mm: -3 }, waist: { mm: -4 }, instep: { mm: -2 } },
    top: {
      coneMm: 40,
      thimble: { diameterMm: 15, depthMm: 40 },
      pins: [{ diameterMm: 6, depthMm: 20, along: 0.15 }, { diameterMm: 6, depthMm: 20, along: 0.85 }],
      label: 'engraved',
      stationMarks: true,
    },
  },
  making: { print: { body: 'hollow', split: { by: 'wedge' } } },
});
