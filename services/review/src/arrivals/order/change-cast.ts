import { ask } from '../../server/ask.js';
import { problemOf } from '../../server/problem.js';
import type { Cast } from '../../server/results.js';

type CastFields = Partial<Pick<Cast, 'arrivedAt' | 'drying' | 'note'>>;

/**
 * Changes what is known of a cast. Where the record moved on in other ways, as when its job ended, the change is made on the
 * record as it stands. Throws ServerProblem 412 where someone changed the same field meanwhile.
 */
export async function changeCast(cast: Cast, fields: CastFields): Promise<void> {
  try {
    await ask('PATCH', `/casts/${cast.id}`, { body: fields, ifMatch: `"${cast.version}"` });
  } catch (error) {
    const problem = problemOf(error);
    const current = problem.more.current as Cast | undefined;
    const touched = (Object.keys(fields) as (keyof CastFields)[]).some((name) => JSON.stringify(current?.[name]) !== JSON.stringify(cast[name]));
    if (problem.status !== 412 || current === undefined || touched) throw problem;
    await changeCast(current, fields);
  }
}
