import type { ComponentChildren } from 'preact';
import type { Room, RuleLine } from './lines.js';

export interface RoomSectionsProps {
  readonly rooms: readonly Room[];
  readonly row: (line: RuleLine) => ComponentChildren;
  /** Below the rows of a room. */
  readonly after?: (room: Room) => ComponentChildren;
}

/** The rules room by room, a row each. */
export function RoomSections({ rooms, row, after }: RoomSectionsProps) {
  return (
    <>
      {rooms.map((room) => (
        <section key={room.key} class="room" id={room.key} aria-labelledby={`${room.key}-title`}>
          <h2 id={`${room.key}-title`}>{room.title}</h2>
          <p class="quiet">{room.description}</p>
          {room.groups.map((group) => (
            <div key={group.keys.join('.')} class="rule-group">
              {group.title !== room.title && <h3>{group.title}</h3>}
              <ul>{group.lines.map(row)}</ul>
            </div>
          ))}
          {after?.(room)}
        </section>
      ))}
    </>
  );
}
