import type { Room } from './lines.js';

/** The way to each room; `told` stands beside a room's name. */
export function RoomsNav({ rooms, told = () => null }: { readonly rooms: readonly Room[]; readonly told?: (room: Room) => string | null }) {
  return (
    <nav class="rooms-nav" aria-label="Rooms of the rules">
      {rooms.map((room) => (
        <button key={room.key} type="button" onClick={() => goTo(room.key)}>{room.title}{told(room) !== null && <span class="badge">{told(room)}</span>}</button>
      ))}
    </nav>
  );
}

function goTo(key: string): void {
  const heading = document.getElementById(`${key}-title`);
  heading?.scrollIntoView({ block: 'start' });
  heading?.setAttribute('tabindex', '-1');
  heading?.focus({ preventScroll: true });
}
