import { useLocation } from 'preact-iso';
import { Lost } from '../app/lost.js';
import { ComparePage } from './compare-page.js';
import { CustomerPage } from './customer-page.js';
import { SearchPage } from './search-page.js';
import './find.css';

/** What was kept: customers, orders and lasts, the history of feet, two results against each other. */
export function Find() {
  const [, , what, id] = useLocation().path.split('/');
  if (what === undefined || what === '') return <SearchPage />;
  if (what === 'compare') return <ComparePage />;
  if (what === 'customers' && id !== undefined) return <CustomerPage key={id} id={id} />;
  return <Lost />;
}
