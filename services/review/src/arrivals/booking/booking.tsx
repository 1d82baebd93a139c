import { ChangeOrder } from './change-order.js';
import { NewOrder } from './new-order.js';
import './booking.css';

/** The form of an order: a new one, or one that is there and is mended. */
export function Booking({ orderId }: { readonly orderId?: string }) {
  return orderId === undefined ? <NewOrder /> : <ChangeOrder orderId={orderId} />;
}
