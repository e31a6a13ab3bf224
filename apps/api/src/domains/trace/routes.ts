import { Readable } from 'node:stream';
import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { actorMay } from '../../actor.ts';
import { mount } from '../../http/route.ts';
import { readChain } from './chain.ts';
import { findRecords } from './find-queries.ts';
import { exportCsv, search } from './search.ts';
import { readChoices } from './search-queries.ts';
import { readToday } from './today.ts';

/** Who finds what in the search box. */
const readers = {
  customer: 'customers.read',
  part: 'parts.read',
  quotation: 'quotations.read',
  order: 'orders.read',
  lot: 'lots.read',
  traveler: 'lots.read',
  recipe: 'recipes.read',
  tank: 'tanks.read',
  bath: 'tanks.read',
  shipment: 'lots.read',
  analysis: 'lab.read',
  coupons: 'lab.read',
  addition: 'lab.read',
  chemical: 'lab.read',
} as const;
type Kind = keyof typeof readers;

export default function trace(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.getLotTrace, ({ params }) => readChain(db, params.id));
  mount(app, contract.searchTrace, ({ query }) => search(db, query));
  mount(app, contract.getTraceChoices, () => readChoices(db.run));
  mount(app, contract.searchNumbers, async ({ actor, query }) => {
    const kinds = (Object.keys(readers) as Kind[]).filter((kind) => actorMay(actor, readers[kind]));
    return { items: await findRecords(db.run, { words: query.q, kinds }) };
  });
  mount(app, contract.getToday, ({ actor }) => readToday(db, actor));

  const { path, access, query } = contract.exportTrace;
  app.get(`/api${path}`, {
    config: { access, rateLimit: { max: 30, timeWindow: '1 minute' } },
    schema: { summary: 'The trace search as a CSV file', tags: ['trace'], querystring: query },
    handler: async (request, reply) => {
      const gone = new AbortController();
      request.raw.once('close', () => gone.abort());
      const lines = exportCsv(db, query.parse(request.query), gone.signal);
      return reply
        .type('text/csv; charset=utf-8')
        .header('content-disposition', 'attachment; filename="trace.csv"')
        .send(Readable.from(lines));
    },
  });
}
