import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { actorMay } from '../../kernel/actor.ts';
import { registerRoute } from '../../http/route.ts';
import { findRecords, readNumberSeries } from './queries.ts';
import { findWords, numbersSaid } from './query.ts';

/** Who finds what in the search box. */
const readers = {
  customer: 'customers.read',
  contact: 'customers.read',
  material: 'materials.read',
  part: 'parts.read',
  enquiry: 'enquiries.read',
  quotation: 'quotations.read',
  order: 'orders.read',
  lot: 'lots.read',
  traveler: 'lots.read',
  recipe: 'recipes.read',
  tank: 'tanks.read',
  supply: 'tanks.read',
  rack: 'tanks.read',
  bath: 'tanks.read',
  shipment: 'lots.read',
  certificate: 'orders.read',
  deliveryNote: 'orders.read',
  invoice: 'invoices.read',
  nonconformance: 'lots.read',
  assessment: 'trace.read',
  customerLetter: 'trace.read',
  analysis: 'lab.read',
  couponSeries: 'lab.read',
  calibration: 'lab.read',
  colourStandard: 'standards.read',
  addition: 'lab.read',
  chemical: 'lab.read',
} as const;
type Kind = keyof typeof readers;

export default function globalSearch(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.searchNumbers, async ({ actor, query }) => {
    const kinds = (Object.keys(readers) as Kind[]).filter((kind) => actorMay(actor, readers[kind]));
    const { words, said } = findWords(query.q);
    const numbers = said === null ? [] : numbersSaid(said, await readNumberSeries(db.execute));
    return { items: await findRecords(db.execute, { words, numbers, kinds }) };
  });
}
