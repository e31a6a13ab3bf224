import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { choicesOf, heads, linesOf, look } from './look-back.ts';

export default function lookBack(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.lookBack, ({ query }) => look(db, query));
  registerRoute(app, contract.getLookBackChoices, ({ query }) => choicesOf(db, query.kind));
  registerRoute(app, contract.exportLookBack, async ({ query, reply }) => {
    // Refused before the file begins, if there is no such record.
    await look(db, { ...query, limit: 1 });
    return streamCsv(reply, {
      ...{ name: `look-back-${query.about}`, heads, linesOf },
      read: (after) => look(db, { ...query, after, limit: CSV_PAGE }),
    });
  });
}
