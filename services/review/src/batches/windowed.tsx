import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

export interface WindowedProps {
  readonly label: string;
  readonly head: ComponentChildren;
  readonly count: number;
  /** px */
  readonly rowHeight: number;
  /** The row that shall be in view; null for none. */
  readonly current: number | null;
  readonly row: (index: number) => ComponentChildren;
  readonly onMove: (by: number) => void;
  readonly onEnter: () => void;
}

const MARGIN_ROWS = 8;

/** A table of which only the rows in view are there. Rows are all of one height. */
export function Windowed({ label, head, count, rowHeight, current, row, onMove, onEnter }: WindowedProps) {
  const field = useRef<HTMLDivElement>(null);
  const [view, setView] = useState({ top: 0, height: 800 });
  const look = (): void => {
    const { current: at } = field;
    if (at !== null) setView({ top: at.scrollTop, height: at.clientHeight });
  };
  useEffect(() => {
    const sized = new ResizeObserver(look);
    if (field.current !== null) sized.observe(field.current);
    return () => sized.disconnect();
  }, []);
  useEffect(() => {
    const { current: at } = field;
    if (at === null || current === null) return;
    const [top, bottom] = [current * rowHeight, (current + 1) * rowHeight];
    const headHeight = (at.querySelector('.head') as HTMLElement | null)?.offsetHeight ?? 0;
    if (top < at.scrollTop) at.scrollTop = top;
    else if (bottom > at.scrollTop + at.clientHeight - headHeight) at.scrollTop = bottom - at.clientHeight + headHeight;
  }, [current]);
  const first = Math.max(0, Math.floor(view.top / rowHeight) - MARGIN_ROWS);
  const end = Math.min(count, Math.ceil((view.top + view.height) / rowHeight) + MARGIN_ROWS);
  const onKeyDown = (event: KeyboardEvent): void => {
    const page = Math.max(1, Math.floor(view.height / rowHeight) - 1);
    const step = { ArrowDown: 1, ArrowUp: -1, PageDown: page, PageUp: -page, Home: -count, End: count }[event.key];
    if (step !== undefined) {
      event.preventDefault();
      onMove(step);
    } else if (event.key === 'Enter' && event.target === field.current) onEnter();
  };
  return (
    <div ref={field} class="windowed" role="table" aria-label={label} aria-rowcount={count + 1} tabIndex={0} onScroll={look} onKeyDown={onKeyDown}>
      <div role="rowgroup" class="head">{head}</div>
      <div role="rowgroup" class="body" style={{ height: `${count * rowHeight}px` }}>
        {Array.from({ length: Math.max(0, end - first) }, (_, i) => row(first + i))}
      </div>
    </div>
  );
}
