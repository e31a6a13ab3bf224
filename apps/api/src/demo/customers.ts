import { createCustomer } from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { addCustomer } from '../catalog/customers/index.ts';
import type { Timeline } from './backdate.ts';
import type { Actors } from './people.ts';

/* Customers of the invented shop. Names, places and addresses are made up. */

const customers = [
  {
    name: 'Falkenau Cycle Works',
    contact: 'Mira Sand',
    address: 'Mill Row 4\nFalkenau',
  },
  {
    name: 'Harrow & Pell Instruments',
    contact: 'Jon Pell',
    address: 'Signal House\nHarrowgate Wharf',
  },
  {
    name: 'Ostrava Lane Knives',
    contact: 'Tess Oban',
    address: '17 Forge Yard\nEastmoor',
  },
  {
    name: 'Lumen Audio',
    contact: 'Kai Berg',
    address: 'Unit 9, Quarry Park\nNorthbeck',
  },
  {
    name: 'Sable Jewellery',
    contact: 'Ana Wren',
    address: 'Upper Arcade 2\nMillbridge',
  },
  {
    name: 'Tarnweiler Watches',
    contact: 'Reto Amsel',
    address: 'Lake Lane 11\nTarnweiler',
    currency: 'CHF',
    country: 'CH',
  },
] as const;

/** Adds the customers with contacts and addresses; returns their keys in the order of the list. */
export async function seedCustomers(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Timeline; since: number },
): Promise<number[]> {
  const ids: number[] = [];
  for (const [index, { name, contact, address, ...customer }] of customers.entries()) {
    const facts = createCustomer.body.parse({
      name,
      currency: 'currency' in customer ? customer.currency : 'EUR',
      taxNumber: `${'country' in customer ? customer.country : 'AT'}${'U'}${10_000_019 + index * 1_111_111}`,
      country: 'country' in customer ? customer.country : 'AT',
      paymentDays: 30,
      taxRatePercent: 20,
      terms: 'Payment within 30 days, ex works.',
      notes: '',
      contacts: [{ name: contact, role: 'purchasing', email: emailOf(contact), phone: '' }],
      addresses: [
        { kind: 'billing', lines: address },
        { kind: 'delivery', lines: address },
      ],
    });
    const add = () => addCustomer(db, { actor: actors.edgar, facts });
    ids.push((await story.at(since + index * 1_800_000, add)).id);
  }
  return ids;
}

const emailOf = (person: string) => `${person.split(' ')[0]?.toLowerCase()}@example.com`;
