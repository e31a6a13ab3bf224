import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { pdfFile } from '../../http/pdf.ts';
import { registerRoute } from '../../http/route.ts';
import { idFromCursor, toPage } from '../../kernel/cursor.ts';
import { issue, print, printLabels, readSheet, view, withdraw } from './deliveries.ts';
import * as queries from './queries.ts';
import { addReturn, removeReturn } from './returns.ts';

export default function deliveries(app: FastifyInstance): void {
  const { db, publicUrl } = app;

  registerRoute(app, contract.getDeliverySheet, ({ params }) => readSheet(db, params.id));
  registerRoute(app, contract.issueDeliveryNote, ({ actor, body }) => issue(db, { actor, input: body }));
  registerRoute(app, contract.withdrawDeliveryNote, ({ actor, params, body }) =>
    withdraw(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.listDeliveryNotes, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: idFromCursor(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map((row) => ({ ...row, issuedAt: row.issuedAt.toISOString() })), next };
  });
  registerRoute(app, contract.getDeliveryNote, ({ params }) => view(db, params.id));
  registerRoute(app, contract.printDeliveryNote, async ({ params, reply }) =>
    pdfFile(reply, await print(db, params.id)),
  );
  registerRoute(app, contract.printDeliveryLabels, async ({ params, query, reply }) =>
    pdfFile(reply, await printLabels(db, { id: params.id, size: query, publicUrl })),
  );
  registerRoute(app, contract.recordReturn, ({ actor, params, body }) =>
    addReturn(db, { actor, noteId: params.id, input: body }),
  );
  registerRoute(app, contract.withdrawReturn, ({ actor, params, body }) =>
    removeReturn(db, { actor, id: params.id, reason: body.reason }),
  );
}
