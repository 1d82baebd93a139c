import { useLocation } from 'preact-iso';
import { useRef } from 'preact/hooks';

export interface InPlace {
  readonly path: string;
  /** Of the path, after the place: ids and what is done with them; empty texts where there are none. */
  readonly parts: readonly string[];
  readonly query: Readonly<Record<string, string>>;
  readonly route: (address: string, replace?: boolean) => void;
}

/** The address as long as it is of this place: while another place is fetched, the one that is left stays as it was. */
export function usePlace(place: string): InPlace {
  const { path, query, route } = useLocation();
  const own = useRef({ path, query });
  if (path === place || path.startsWith(`${place}/`)) own.current = { path, query };
  return { ...own.current, parts: own.current.path.slice(place.length + 1).split('/'), route };
}
