import { changeColour } from '@cast-to-last/sheet/paper/change-colours';
import { useState } from 'preact/hooks';
import { figure, signed } from '../parts/figures.js';
import { DrawnPictures } from '../parts/surfaces/drawn-pictures.js';
import { TwoSurfaces } from '../parts/surfaces/two-surfaces.js';
import type { Comparison } from '../server/comparisons.js';

const STEPS = 41;

/** The first of two results laid on the second, coloured by how far it stands off. */
export function DeviationView({ comparison }: { readonly comparison: Comparison }) {
  const [rangeMm, setRange] = useState<number | null>(null);
  const { id, report: { casts: [first, second], registration: { mirrored } } } = comparison;
  const pdf = `/api/v1/comparisons/${id}/files/compare.pdf`;
  return (
    <section aria-label="Map of the deviation" class="deviation">
      <TwoSurfaces
        of={id} names={[`First, ${first.side}${mirrored ? ', mirrored' : ''}`, `Second, ${second.side}`]} side={second.side} showings={['beside', 'wipe', 'first', 'within']}
        instead={<DrawnPictures revisionIds={[comparison.first.revisionId, comparison.second.revisionId]} names={[`First, ${first.side}`, `Second, ${second.side}`]} body={comparison.of === 'last' ? 'last' : 'cleaned'} />}
        read={async (signal) => {
          const read = await (await import('../parts/surfaces/read-surface.js')).readDeviation(id, signal);
          setRange(read.rangeMm);
          return read.bodies;
        }}
      >
        {rangeMm !== null && <Legend rangeMm={rangeMm} />}
      </TwoSurfaces>
      <p class="pushes"><a class="push" href={pdf} target="_blank" rel="noreferrer">The comparison with its map as a drawn page</a></p>
    </section>
  );
}

/** What the colours say, with numbers. */
function Legend({ rangeMm }: { readonly rangeMm: number }) {
  return (
    <div class="legend" role="img" aria-label={`Colours from ${figure(-rangeMm)} mm, inside, blue, over none, white, to ${figure(rangeMm)} mm, outside, brown; grey has nothing to compare with`}>
      <svg viewBox={`0 0 ${STEPS} 2`} preserveAspectRatio="none" aria-hidden="true">
        {Array.from({ length: STEPS }, (_, i) => <rect key={i} x={i} y={0} width={1.05} height={2} fill={`rgb(${changeColour((2 * i / (STEPS - 1) - 1) * rangeMm, rangeMm).join(' ')})`} />)}
      </svg>
      <div class="numbers" aria-hidden="true">
        {[-1, -0.5, 0, 0.5, 1].map((share) => <span key={share}>{share === 0 ? '0' : signed(share * rangeMm, 2)}{Math.abs(share) === 1 ? ` mm ${share < 0 ? 'inside' : 'outside'}` : ''}</span>)}
      </div>
    </div>
  );
}
