import { Readable } from 'node:stream';
import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { readChain } from './lot-trace.ts';
import { exportCsv, search } from './search.ts';
import { readChoices } from './search-queries.ts';

export default function trace(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getLotTrace, ({ params }) => readChain(db, params.id));
  registerRoute(app, contract.searchTrace, ({ query }) => search(db, query));
  registerRoute(app, contract.getTraceChoices, () => readChoices(db.execute));
  registerRoute(app, contract.exportTrace, ({ query, request, reply }) => {
    const gone = new AbortController();
    request.raw.once('close', () => gone.abort());
    reply.type('text/csv; charset=utf-8').header('content-disposition', 'attachment; filename="trace.csv"');
    return Promise.resolve(Readable.from(exportCsv(db, query, gone.signal)));
  });
}
