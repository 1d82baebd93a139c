import { useLocation } from 'preact-iso';
import { OrderBench } from './order/order-bench.js';
import { WaitingList } from './waiting/waiting-list.js';
import type { Side } from '../server/results.js';

/** The maker's place: what waits for a decision, and one order with its casts. */
export function Bench() {
  const { path } = useLocation();
  const [, , orderId, side] = path.split('/');
  if (orderId === undefined || orderId === '') return <WaitingList />;
  return <OrderBench key={`${orderId}/${side ?? ''}`} orderId={orderId} only={side === 'left' || side === 'right' ? (side as Side) : null} />;
}
