import { eq } from 'drizzle-orm';
import { casts } from '@cast-to-last/runtime/records/schema';
import { sendFile } from '../../http/send-file.js';
import { Problem, conflict, notFound } from '../../http/problem.js';
import { route } from '../../http/route.js';
import { shownCast } from './shown-cast.js';

const MAX_BYTES = 20e6;
const MOST = 20;
const TYPES: ReadonlyMap<string, { readonly ending: string; readonly begins: readonly number[] }> = new Map([
  ['image/jpeg', { ending: 'jpg', begins: [0xff, 0xd8, 0xff] }],
  ['image/png', { ending: 'png', begins: [0x89, 0x50, 0x4e, 0x47] }],
]);

export const addPhoto = route({
  method: 'post', path: '/casts/:id/photos', summary: 'Adds a photo of a cast: the bytes of a JPEG or PNG.', body: 'bytes', status: 201,
  handle: async ({ service: { runtime: { records, artifacts } }, by, params: { id }, request }) => {
    const type = request.headers['content-type'] ?? '';
    const known = TYPES.get(type);
    if (known === undefined) throw new Problem(415, 'not-a-photo', 'Photos are JPEG or PNG.', 'Send one with content-type image/jpeg or image/png.');
    const [found] = await records.db.select({ id: casts.id }).from(casts).where(eq(casts.id, id));
    if (found === undefined) throw notFound('cast');
    const stored = await artifacts.add(beginningWith(request, known.begins), { maxBytes: MAX_BYTES });
    const cast = await records.change(by, 'cast.photo-added', { table: 'casts', id }, async (draft) => {
      const before = await draft.expect('casts', id);
      if (before.photos.some(({ sha256 }) => sha256 === stored.sha256)) return before;
      if (before.photos.length >= MOST) throw conflict('too-many-photos', `A cast has at most ${MOST} photos.`, 'Leave it at those.');
      return draft.put('casts', { ...before, photos: [...before.photos, { ...stored, name: `photo-${before.photos.length + 1}.${known.ending}`, type }] });
    });
    return { status: 201, body: shownCast(cast), version: cast.version };
  },
});

async function* beginningWith(source: AsyncIterable<Uint8Array>, begins: readonly number[]): AsyncGenerator<Uint8Array> {
  let seen = 0;
  for await (const chunk of source) {
    for (let i = 0; i < chunk.length && seen < begins.length; i++, seen++) {
      if (chunk[i] !== begins[seen]) throw new Problem(415, 'not-a-photo', 'The bytes are not those of the photo that the header names.', 'Send the file as it is.');
    }
    yield chunk;
  }
  if (seen < begins.length) throw new Problem(415, 'not-a-photo', 'There is no photo in the body.', 'Send the file as it is.');
}

export const readPhoto = route({
  method: 'get', path: '/casts/:id/photos/:sha256', summary: 'A photo of a cast.', produces: 'image/jpeg',
  handle: async ({ service: { runtime: { records, artifacts } }, params: { id, sha256 }, request, response }) => {
    const [cast] = await records.db.select({ photos: casts.photos }).from(casts).where(eq(casts.id, id));
    const photo = cast?.photos.find((p) => p.sha256 === sha256);
    if (photo === undefined) throw notFound('photo');
    await sendFile(artifacts, request, response, { ...photo, offeredAs: photo.name, lasting: true });
    return null;
  },
});
