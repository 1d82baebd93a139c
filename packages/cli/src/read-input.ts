import { readFile, stat } from 'node:fs/promises';
import { CastError } from '@cast-to-last/pipeline/errors';
import { WrongCall } from './wrong-call.js';

/** The bytes of a file that the call names. Throws WrongCall where there is none to read. */
export async function readNamedFile(path: string, what: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    const reason = code === 'ENOENT' ? 'there is no such file' : code === 'EISDIR' ? 'it is a folder' : code === 'EACCES' ? 'it may not be read' : String(code ?? error);
    throw new WrongCall(`${what} ${path}: ${reason}.`);
  }
}

/** The value of a JSON file. Throws WrongCall where it cannot be read, CastError with `badCode` where it is no JSON. */
export async function readJsonFile(path: string, what: string, badCode: string): Promise<unknown> {
  const text = new TextDecoder().decode(await readNamedFile(path, what)).replace(/^\uFEFF/, '');
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new CastError(badCode, `${what} ${path} is no JSON: ${(error as Error).message}.`, 'Mend it in a text editor and try again.');
  }
}

/** The same; null where there is no such file. */
export async function readOptionalJson(path: string, what: string, badCode: string): Promise<unknown> {
  const there = await stat(path).then(() => true, (error: NodeJS.ErrnoException) => error.code !== 'ENOENT');
  return there ? readJsonFile(path, what, badCode) : null;
}
