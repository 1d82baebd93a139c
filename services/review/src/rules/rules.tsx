import { useLocation } from 'preact-iso';
import { Lost } from '../app/lost.js';
import { DiffPage } from './diff-page.js';
import { EditPage } from './edit/edit-page.js';
import { VersionPage } from './version-page.js';
import { VersionsPage } from './versions-page.js';
import './rules.css';

/** The rules of the workshop: versions, one read in plain words, one changed, two against each other. */
export function Rules() {
  const [, , id, what, other] = useLocation().path.split('/');
  if (id === undefined || id === '') return <VersionsPage />;
  if (what === undefined || what === '') return <VersionPage key={id} id={id} />;
  if (what === 'change') return <EditPage key={id} id={id} />;
  if (what === 'against' && other !== undefined) return <DiffPage key={`${id} ${other}`} fromId={id} toId={other} />;
  return <Lost />;
}
