import { route } from '../../http/route.js';
import { particularsSchema } from './begin-upload.js';
import { alone, uploadOf } from './continue-upload.js';
import { storeUpload } from './store-upload.js';

export const guessSide = route({
  method: 'post', path: '/uploads/:id/side', summary: 'Which foot the scan of an upload that is whole shows, by its shape; the upload waits to be finished.',
  handle: async (call) => {
    const { service: { runtime, geometry } } = call;
    const upload = await uploadOf(call);
    const { sha256 } = await alone(upload.id, () => storeUpload(runtime, upload));
    const { kind, unit } = particularsSchema.parse(upload.particulars);
    return { body: await geometry.run('guess-side', { sha256, kind, unit }) };
  },
});
