import { Lost } from '../app/lost.js';
import { usePlace } from '../parts/use-place.js';
import { DiffPage } from './diff-page.js';
import { EditPage } from './edit/edit-page.js';
import { VersionPage } from './version-page.js';
import { VersionsPage } from './versions-page.js';
import './rules.css';

/** The rules of the workshop: versions, one read in plain words, one changed, two against each other. */
export function Rules() {
  const [id = '', what = '', other = ''] = usePlace('/rules').parts;
  if (id === '') return <VersionsPage />;
  if (what === '') return <VersionPage key={id} id={id} />;
  if (what === 'change') return <EditPage key={id} id={id} />;
  if (what === 'against' && other !== '') return <DiffPage key={`${id} ${other}`} fromId={id} toId={other} />;
  return <Lost />;
}
