import { CastError } from '@cast-to-last/pipeline/errors';

/** The refusal that work ends with. Throws where it ends otherwise. */
export async function refusalOf(work: Promise<unknown>): Promise<CastError> {
  try {
    await work;
  } catch (error) {
    if (error instanceof CastError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}
