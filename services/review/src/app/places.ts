import type { Role } from '../server/session.js';

export interface Place {
  readonly name: string;
  readonly address: string;
  readonly role: Role;
  /** The highest role that sees it; those above find it elsewhere. */
  readonly upTo?: Role;
  /** With Shift: goes there. */
  readonly key: string;
}

/** The places of the app, in the order in which a cast goes through them. */
export const PLACES: readonly Place[] = [
  { name: 'Arrivals', address: '/arrivals', role: 'assistant', key: 'A' },
  { name: 'Bench', address: '/bench', role: 'assistant', key: 'B' },
  { name: 'Queue', address: '/queue', role: 'assistant', key: 'Q' },
  { name: 'Find', address: '/find', role: 'assistant', key: 'F' },
  { name: 'Rules', address: '/rules', role: 'assistant', key: 'R' },
  { name: 'Batches', address: '/batches', role: 'assistant', key: 'C' },
  { name: 'People', address: '/people', role: 'administrator', key: 'P' },
  { name: 'Scanners', address: '/people/scanners', role: 'assistant', upTo: 'maker', key: 'S' },
];
