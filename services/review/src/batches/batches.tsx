import { usePlace } from '../parts/use-place.js';
import { BatchPage } from './batch-page.js';
import { BatchesPage } from './batches-page.js';
import { BeginPage } from './begin-page.js';
import './batches.css';

/** Casts made again by other rules: all batches, one begun, one looked through. */
export function Batches() {
  const [id = '', itemId = ''] = usePlace('/batches').parts;
  if (id === '') return <BatchesPage />;
  if (id === 'new') return <BeginPage />;
  return <BatchPage key={id} id={id} itemId={itemId === '' ? null : itemId} />;
}
