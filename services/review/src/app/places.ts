import type { Role } from '../server/session.js';

export interface Place {
  readonly name: string;
  readonly address: string;
  readonly role: Role;
  /** The highest role that sees it; those above find it elsewhere. */
  readonly upTo?: Role;
  /** After g. */
  readonly key: string;
}

/** The places of the app, in the order in which a cast goes through them. */
export const PLACES: readonly Place[] = [
  { name: 'Arrivals', address: '/arrivals', role: 'assistant', key: 'a' },
  { name: 'Bench', address: '/bench', role: 'assistant', key: 'b' },
  { name: 'Queue', address: '/queue', role: 'assistant', key: 'q' },
  { name: 'Find', address: '/find', role: 'assistant', key: 'f' },
  { name: 'Rules', address: '/rules', role: 'assistant', key: 'r' },
  { name: 'Batches', address: '/batches', role: 'assistant', key: 'c' },
  { name: 'People', address: '/people', role: 'administrator', key: 'p' },
  { name: 'Scanners', address: '/people/scanners', role: 'assistant', upTo: 'maker', key: 's' },
];
