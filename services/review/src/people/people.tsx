import { useLocation } from 'preact-iso';
import { isAtLeast } from '../server/session.js';
import type { Role } from '../server/session.js';
import { Accounts } from './accounts.js';
import { AuditLog } from './audit-log.js';
import { ScannerPage } from './scanner-page.js';
import { Scanners } from './scanners.js';
import { Stations } from './stations.js';
import './people.css';

const ROOMS: readonly (readonly [name: string, address: string, role: Role])[] = [
  ['Accounts', '/people', 'administrator'], ['Scanning stations', '/people/stations', 'administrator'], ['Scanners', '/people/scanners', 'assistant'], ['Log', '/people/log', 'administrator'],
];

/** Who works here and with what: accounts, scanning stations, scanners with their checks, and what was done by whom. */
export function People() {
  const { path } = useLocation();
  const rooms = ROOMS.filter(([, , role]) => isAtLeast(role));
  const [, , room = '', id = ''] = path.split('/');
  const here = `/people${room === '' ? '' : `/${room}`}`;
  const allowed = rooms.some(([, address]) => address === here);
  return (
    <main class="people">
      <nav class="people-rooms" aria-label="People and scanners">
        {rooms.map(([name, address]) => <a key={address} href={address} aria-current={address === here ? 'page' : undefined}>{name}</a>)}
      </nav>
      {!allowed && <p class="board">This is for the administrator. <a href="/people/scanners">Go to the scanners.</a></p>}
      {allowed && room === '' && <Accounts />}
      {allowed && room === 'stations' && <Stations />}
      {allowed && room === 'scanners' && (id === '' ? <Scanners /> : <ScannerPage key={id} scannerId={id} />)}
      {allowed && room === 'log' && <AuditLog />}
    </main>
  );
}
