import type { CallName, Reply, Request } from './calls.js';
import { cutBody } from './cut-body.js';
import { deviationOf } from './deviation-of.js';
import { forget, keep } from './kept-bodies.js';
import { groundOf } from './ground-of.js';
import { hiddenFrom } from './hidden-from.js';
import { normalsAt, pick } from './pick.js';
import { profileAcross } from './profile-across.js';
import { unpack } from './unpack.js';

/** The thread that holds the meshes: unpacks them and answers what is asked of their geometry, away from the page's own loop. */

// oxlint-disable-next-line typescript/no-explicit-any -- each call knows what it is asked
const CALLS: Record<CallName, (asked: any) => unknown> = {
  unpack: async ({ bytes, side, keep: keeps }: { bytes: ArrayBuffer; side: string; keep: boolean }) => {
    const bodies = await unpack(new Uint8Array(bytes));
    if (keeps) for (const { mesh, shown } of bodies) keep(`${side}:${shown.name}`, mesh);
    return bodies.map(({ shown }) => shown);
  },
  cut: cutBody,
  pick,
  normalsAt,
  hiddenFrom,
  profile: profileAcross,
  deviation: deviationOf,
  ground: groundOf,
  forget: ({ side }: { side: string }) => forget(side),
};

const scope = globalThis as unknown as { onmessage: (event: MessageEvent<Request>) => void; postMessage(reply: Reply, transfer: Transferable[]): void };

scope.onmessage = ({ data: { id, call, asked } }) => {
  Promise.resolve()
    .then(() => CALLS[call](asked))
    .then((answer) => scope.postMessage({ id, answer }, buffersOf(answer)), (error: unknown) => scope.postMessage({ id, fault: error instanceof Error ? error.message : String(error) }, []));
};

/** The arrays in an answer, which go over without being copied. */
function buffersOf(answer: unknown): Transferable[] {
  if (ArrayBuffer.isView(answer)) return [answer.buffer as ArrayBuffer];
  if (answer === null || typeof answer !== 'object') return [];
  return Object.values(answer).flatMap(buffersOf);
}
