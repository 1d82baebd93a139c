import { describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.js';
import { GROWN_CUSTOMER, LEFT_LENGTHS, feetOverYears } from '../support/feet-over-years.js';

const workshop = workshopService();

describe('the history of feet', () => {
  it('has the day of each order, each measure with its uncertainty, and what it was made by', async () => {
    const { assistant, service } = workshop();
    await feetOverYears(service.runtime.records.db);
    const { items } = (await assistant('GET', `/customers/${GROWN_CUSTOMER}/history`)).body;
    expect(items.map(({ day }: { day: string }) => day)).toEqual([...LEFT_LENGTHS].reverse().flatMap(([day]) => [day, day]));
    expect(items.filter(({ side }: { side: string }) => side === 'left').map(({ measures }: { measures: Record<string, number> }) => measures['foot-length'])).toEqual([...LEFT_LENGTHS].reverse().map(([, length]) => length));
    expect(items[0].details['foot-length']).toEqual({ label: 'foot length', unit: 'mm', uncertainty: 0.5 });
    // What was not taken has no number.
    expect([items[0].measures['ankle-girth'], items[0].details['ankle-girth']]).toEqual([undefined, undefined]);
    expect(items[0]).toMatchObject({ orderNumber: 'grown-4', discipline: 'boot-type', rulesName: 'house rules', rulesNumber: 1, verdict: 'usable' });
  });
});
