import { DRAWINGS } from './drawings.js';

/** The small picture of a rule, by its pattern; the words beside it say the same. */
export function RulePicture({ of }: { readonly of: string }) {
  const drawing = DRAWINGS[of];
  if (drawing === undefined) return <span class="rule-picture" />;
  const { base, area, dash, fine, bold } = drawing;
  return (
    <svg class="rule-picture" viewBox="0 0 96 64" aria-hidden="true" focusable="false">
      {area !== undefined && <path class="area" d={area} fill-rule="evenodd" />}
      <path class="base" d={base} />
      {dash !== undefined && <path class="dash" d={dash} />}
      {fine !== undefined && <path class="fine" d={fine} />}
      {bold !== undefined && <path class="bold" d={bold} />}
    </svg>
  );
}
