import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { pdfFile } from '../../http/pdf.ts';
import { registerRoute } from '../../http/route.ts';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { idFromCursor, toPage } from '../../kernel/cursor.ts';
import { itemHeads, itemLines, lotHeads, lotLines } from './csv.ts';
import { addLot, assign, close, hold, judge, openFound } from './decide.ts';
import { giveReasonForNone, issue, print, readLetterSheet } from './letters.ts';
import { dismiss, listOffers } from './offers.ts';
import { open, readSheet } from './open.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

export default function impactAssessments(app: FastifyInstance): void {
  const { db } = app;
  const readPage = async ({
    after,
    limit,
    ...filter
  }: Omit<Parameters<typeof queries.readItems>[1], 'after'> & {
    after?: string | undefined;
  }) => {
    const rows = await queries.readItems(db.execute, { ...filter, after: idFromCursor(after), limit });
    return toPage({ rows, limit, cursorOf: (row) => [row.id] });
  };

  registerRoute(app, contract.getAssessmentSheet, ({ query }) => readSheet(db, query));
  registerRoute(app, contract.openAssessment, ({ actor, body }) => open(db, { actor, input: body }));
  registerRoute(app, contract.listAssessments, async ({ query }) => {
    const { items, next } = await readPage({ ...query, limit: query.limit ?? 50 });
    return { items: items.map((row) => ({ ...row, openedAt: row.openedAt.toISOString() })), next };
  });
  registerRoute(app, contract.exportAssessments, ({ query, reply }) =>
    Promise.resolve(
      streamCsv(reply, {
        ...{ name: 'impact-assessments', heads: itemHeads, linesOf: itemLines },
        read: (after) => readPage({ ...query, after, limit: CSV_PAGE }),
      }),
    ),
  );
  registerRoute(app, contract.getAssessment, ({ params }) => view(db, params.id));
  registerRoute(app, contract.exportAssessedLots, async ({ params, reply }) => {
    const { number, assessed } = await view(db, params.id);
    return streamCsv(reply, {
      ...{ name: `${number}-lots`, heads: lotHeads, linesOf: lotLines },
      read: () => Promise.resolve({ items: assessed, next: null }),
    });
  });
  registerRoute(app, contract.assignAssessment, ({ actor, params, body }) =>
    assign(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.addAssessmentLot, ({ actor, params, body }) =>
    addLot(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.judgeLots, ({ actor, params, body }) =>
    judge(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.holdAssessedLots, ({ actor, params, body }) =>
    hold(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.openAssessedNonconformance, ({ actor, params, body }) =>
    openFound(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.getLetterSheet, ({ params, query }) =>
    readLetterSheet(db, { id: params.id, customerId: query.customerId }),
  );
  registerRoute(app, contract.issueLetter, ({ actor, params, body }) =>
    issue(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.printLetter, async ({ params, reply }) =>
    pdfFile(reply, await print(db, params.id)),
  );
  registerRoute(app, contract.stateNoLetter, ({ actor, params, body }) =>
    giveReasonForNone(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.closeAssessment, ({ actor, params, body }) =>
    close(db, { actor, id: params.id, text: body.text }),
  );
  registerRoute(app, contract.listAssessmentOffers, () => listOffers(db));
  registerRoute(app, contract.dismissAssessmentOffer, ({ actor, params, body }) =>
    dismiss(db, { actor, cause: params.cause, reason: body.reason }),
  );
}
