import { useLocation } from 'preact-iso';
import { Booking } from './booking/booking.js';
import { WaitingList } from './list/waiting-list.js';
import { OrderPage } from './order/order-page.js';
import './arrivals.css';

/** Arrivals: what waits for whom, booking in, and the casts of one order. */
export function Arrivals() {
  const { path } = useLocation();
  const [, , first = '', second = ''] = path.split('/');
  if (path.startsWith('/arrivals/') && first === 'new') return <Booking />;
  if (path.startsWith('/arrivals/') && first !== '') return second === 'change' ? <Booking key={first} orderId={first} /> : <OrderPage key={first} orderId={first} />;
  return <WaitingList />;
}
