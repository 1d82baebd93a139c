import { Lost } from '../app/lost.js';
import { usePlace } from '../parts/use-place.js';
import { ComparePage } from './compare-page.js';
import { CustomerPage } from './customer-page.js';
import { SearchPage } from './search-page.js';
import './find.css';

/** What was kept: customers, orders and lasts, the history of feet, two results against each other. */
export function Find() {
  const [what = '', id = ''] = usePlace('/find').parts;
  if (what === '') return <SearchPage />;
  if (what === 'compare') return <ComparePage />;
  if (what === 'customers' && id !== '') return <CustomerPage key={id} id={id} />;
  return <Lost />;
}
