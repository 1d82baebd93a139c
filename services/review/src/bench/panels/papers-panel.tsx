import { fileAddress } from '../../server/results.js';
import type { BenchWork } from '../order/bench-work.js';
import { SIDE_WORDS } from '../order/words.js';

const WORDS: Readonly<Record<string, string>> = {
  'sheet.pdf': 'measurement sheet', 'recast-note.pdf': 'note to the customer about a new cast', 'last.stl': 'last, STL', 'last.3mf': 'last, 3MF', 'cleaned.stl': 'cleaned cast, STL',
  'measures.csv': 'measures, CSV', 'report.json': 'report, JSON', 'sheet.json': 'what stands on the sheet, JSON', 'rules.json': 'the rules it was made by, JSON', 'review.glb': 'scan and cleaned cast for viewers, GLB',
};

/** Every file of the results that are shown. */
export function PapersPanel({ work }: { readonly work: BenchWork }) {
  return (
    <div class="papers">
      {work.feet.map(({ side, revision }) => (
        <section key={side}>
          <h2>{SIDE_WORDS[side]}{revision.value !== null && <span class="quiet"> result {revision.value.number}</span>}</h2>
          {revision.value === null ? <p class="quiet">No result yet.</p> : (
            <ul>
              {Object.entries(WORDS).flatMap(([name, word]) => {
                const file = revision.value?.files.find((f) => f.name === name);
                return file === undefined || revision.value === null ? [] : [(
                  <li key={name}><a href={fileAddress(revision.value.id, name)} download>{word}</a> <span class="quiet small">{sizeOf(file.size)}</span></li>
                )];
              })}
            </ul>
          )}
        </section>
      ))}
    </div>
  );
}

const sizeOf = (bytes: number): string => (bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`);
