import type { WaitsFor } from '../server/arrivals.js';
import type { Verdict } from '../server/results.js';

interface WaitWords {
  /** Over a count. */
  readonly group: string;
  /** Of one cast. */
  readonly says: string;
  /** Who has to do something. */
  readonly whose: 'customer' | 'time' | 'assistant' | 'machine' | 'maker' | 'nobody';
  /** Where this group holds nothing. */
  readonly none: string;
}

export const WAIT_WORDS: Readonly<Record<WaitsFor, WaitWords>> = {
  post: { group: 'On the way', says: 'on the way', whose: 'customer', none: 'No cast is on its way.' },
  drying: { group: 'Drying', says: 'drying', whose: 'time', none: 'No plaster is drying.' },
  scan: { group: 'To scan', says: 'to be scanned', whose: 'assistant', none: 'Nothing waits to be scanned.' },
  work: { group: 'In the works', says: 'being worked on', whose: 'machine', none: 'Nothing is being worked on.' },
  trouble: { group: 'Stopped', says: 'stopped', whose: 'assistant', none: 'Nothing has stopped.' },
  maker: { group: 'With the maker', says: 'with the maker', whose: 'maker', none: 'Nothing waits for the maker.' },
  'sent-back': { group: 'Sent back', says: 'sent back', whose: 'assistant', none: 'The maker sent nothing back.' },
  recast: { group: 'To be cast again', says: 'to be cast again', whose: 'customer', none: 'No cast has to be taken again.' },
  replaced: { group: 'Replaced', says: 'replaced by a new cast', whose: 'nobody', none: 'No cast was replaced.' },
  done: { group: 'Approved', says: 'approved', whose: 'nobody', none: 'No cast is approved yet.' },
};

export const VERDICT_WORDS: Readonly<Record<Verdict, { readonly says: string; readonly kind: 'good' | 'care' | 'bad' }>> = {
  usable: { says: 'Usable', kind: 'good' },
  'usable-with-care': { says: 'Usable with care', kind: 'care' },
  recast: { says: 'Cast again', kind: 'bad' },
};
