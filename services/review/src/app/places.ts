import type { Role } from '../server/session.js';

export interface Place {
  readonly name: string;
  readonly address: string;
  readonly role: Role;
}

/** The places of the app, in the order in which a cast goes through them. */
export const PLACES: readonly Place[] = [
  { name: 'Arrivals', address: '/arrivals', role: 'assistant' },
  { name: 'Bench', address: '/bench', role: 'assistant' },
  { name: 'Queue', address: '/queue', role: 'assistant' },
  { name: 'Find', address: '/find', role: 'assistant' },
  { name: 'Rules', address: '/rules', role: 'assistant' },
  { name: 'Batches', address: '/batches', role: 'assistant' },
  { name: 'People', address: '/people', role: 'administrator' },
];
