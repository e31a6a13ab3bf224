import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { readChain } from './lot-trace.ts';
import { heads, lineOf, search } from './search.ts';
import { readChoices } from './search-queries.ts';

export default function trace(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getLotTrace, ({ params }) => readChain(db, params.id));
  registerRoute(app, contract.searchTrace, ({ query }) => search(db, query));
  registerRoute(app, contract.getTraceChoices, () => readChoices(db.execute));
  registerRoute(app, contract.exportTrace, ({ query, reply }) =>
    Promise.resolve(
      streamCsv(reply, {
        ...{ name: 'trace', heads },
        read: (after) => search(db, { ...query, after, limit: CSV_PAGE }),
        linesOf: (hit) => [lineOf(hit)],
      }),
    ),
  );
}
