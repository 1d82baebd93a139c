import { useState } from 'preact/hooks';
import { ProblemBox } from '../../parts/problem-box.js';
import { ask } from '../../server/ask.js';
import { problemOf } from '../../server/problem.js';
import type { ServerProblem } from '../../server/problem.js';
import type { Cast } from '../../server/results.js';

const TYPES = ['image/jpeg', 'image/png'];

/** Photos of the cast as it came: taken with a tablet's camera, chosen or dropped. */
export function Photos({ kept, again }: { readonly kept: Cast; readonly again: () => Promise<void> }) {
  const { id, photos, side } = kept;
  const [problem, setProblem] = useState<ServerProblem | null>(null);
  const [busy, setBusy] = useState(0);
  const take = async (files: Iterable<File>): Promise<void> => {
    setProblem(null);
    for (const file of files) {
      setBusy((n) => n + 1);
      try {
        await ask('POST', `/casts/${id}/photos`, { bytes: file, headers: { 'content-type': TYPES.includes(file.type) ? file.type : 'application/octet-stream' } });
      } catch (error) {
        setProblem(problemOf(error));
      }
      setBusy((n) => n - 1);
    }
    await again();
  };
  return (
    <section class="panel-part photo-part" aria-label="Photos" onDragOver={(event) => event.preventDefault()} onDrop={(event) => {
      event.preventDefault();
      event.stopPropagation();
      void take(event.dataTransfer?.files ?? []);
    }}>
      <h3>Photos</h3>
      <ul>
        {photos.map(({ sha256, name }, i) => (
          <li key={sha256}><a href={`/api/v1/casts/${id}/photos/${sha256}`} download={name}><img src={`/api/v1/casts/${id}/photos/${sha256}`} alt={`Photo ${i + 1} of the ${side} cast`} loading="lazy" /></a></li>
        ))}
        <li>
          <label class="push file-push">{busy > 0 ? 'Adding …' : 'Add photos'}<input type="file" accept={TYPES.join()} multiple onChange={(event) => {
            const chosen = [...(event.currentTarget.files ?? [])];
            event.currentTarget.value = '';
            void take(chosen);
          }} /></label>
        </li>
        <li class="by-camera">
          <label class="push file-push">Take one<input type="file" accept={TYPES.join()} capture="environment" onChange={(event) => {
            const chosen = [...(event.currentTarget.files ?? [])];
            event.currentTarget.value = '';
            void take(chosen);
          }} /></label>
        </li>
      </ul>
      <ProblemBox problem={problem} />
    </section>
  );
}
