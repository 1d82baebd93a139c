import type { Order } from '@cast-to-last/pipeline/order';
import type { ArrivedOrder } from '../../server/arrivals.js';
import { day } from '../../parts/times.js';

const LOADS: Readonly<Record<NonNullable<Order['load']>, string>> = { none: 'no weight on the foot', seated: 'seated', half: 'half the weight on the foot', full: 'full weight on the foot' };

/** What the order says, in the words of the workshop. */
function told({ discipline, load, footbed, plaster, drying, plan }: Order): readonly string[] {
  return [
    discipline,
    load === undefined ? undefined : LOADS[load],
    footbed === undefined ? 'no footbed named' : `footbed ${footbed.heelHeightMm} / ${footbed.hingeHeightMm} / ${footbed.toeHeightMm} mm high, ${footbed.heelToHingeMm} + ${footbed.hingeToToeMm} mm long`,
    plaster?.layers === undefined ? undefined : `${plaster.layers} layers`,
    plaster?.wallMm === undefined ? undefined : `wall ${plaster.wallMm} mm`,
    drying?.hours === undefined ? drying?.how : `dried ${drying.hours} h${drying.how === undefined ? '' : ` ${drying.how}`}`,
    plan?.note,
  ].filter((text) => text !== undefined);
}

export function OrderHead({ order, content }: { readonly order: ArrivedOrder; readonly content: Order }) {
  const { id, number, customer, createdAt, state } = order;
  return (
    <header class="arrived-head">
      <p class="way-back"><a href="/arrivals">Arrivals</a></p>
      <div class="title-line">
        <h1>Order {number}</h1>
        {state !== 'open' && <span class="order-tag">{state}</span>}
        <span class="quiet">{customer === null ? 'no customer named' : customer.name === null ? customer.number : `${customer.name}, ${customer.number}`}; booked in {day(createdAt)}</span>
        <a class="push" href={`/arrivals/${id}/change`}>Change the order</a>
      </div>
      <p class="order-particulars">{told(content).join(' · ')}</p>
      {content.remarks !== undefined && <p class="order-remarks">{content.remarks}</p>}
    </header>
  );
}
