import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile } from '../../http/csv.ts';
import { pdfFile } from '../../http/pdf.ts';
import { registerRoute } from '../../http/route.ts';
import { idFromCursor, toPage } from '../../kernel/cursor.ts';
import { accountingHeads, accountingRows } from './accounting.ts';
import { bookBank, previewBank } from './import-bank.ts';
import { pay, unpay } from './payments.ts';
import { changeDetails } from './details.ts';
import { readDetails } from './details-queries.ts';
import { discard, draft, readSheet, redraft } from './drafts.ts';
import { readDues } from './due-queries.ts';
import { credit, issue } from './issue.ts';
import { print, readFile } from './papers.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

export default function invoices(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.getBillingDetails, () => readDetails(db));
  registerRoute(app, contract.updateBillingDetails, ({ actor, version, body }) =>
    changeDetails(db, { actor, version, input: body }),
  );
  registerRoute(app, contract.getInvoiceSheet, ({ params }) => readSheet(db, params.id));
  registerRoute(app, contract.listInvoiceDues, async () => ({ items: await readDues(db.execute) }));
  registerRoute(app, contract.createInvoice, ({ actor, body }) => draft(db, { actor, input: body }));
  registerRoute(app, contract.updateInvoice, ({ actor, params, version, body }) =>
    redraft(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.discardInvoice, ({ actor, params }) => discard(db, { actor, id: params.id }));
  registerRoute(app, contract.issueInvoice, ({ actor, params, version }) =>
    issue(db, { actor, id: params.id, version }),
  );
  registerRoute(app, contract.issueCreditNote, ({ actor, params, body }) =>
    credit(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.listInvoices, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: idFromCursor(after), limit });
    return toPage({ rows, limit, cursorOf: (row) => [row.id] });
  });
  registerRoute(app, contract.getInvoiceSums, () => queries.readSums(db.execute));
  registerRoute(app, contract.getInvoice, ({ params }) => view(db, params.id));
  registerRoute(app, contract.printInvoice, async ({ params, reply }) =>
    pdfFile(reply, await print(db, params.id)),
  );
  registerRoute(app, contract.recordPayment, ({ actor, params, body }) =>
    pay(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.withdrawPayment, ({ actor, params, body }) =>
    unpay(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.previewBankLines, ({ body }) => previewBank(db, body));
  registerRoute(app, contract.bookBankLines, ({ actor, body }) => bookBank(db, { actor, input: body }));
  registerRoute(app, contract.exportAccounting, async ({ query, reply }) =>
    csvFile(reply, {
      ...{ name: `accounting-${query.from}-${query.to}`, heads: accountingHeads },
      rows: await accountingRows(db.execute, query),
    }),
  );
  registerRoute(app, contract.getInvoiceFile, async ({ params, reply }) => {
    const { name, file } = await readFile(db, params.id);
    reply
      .type('application/xml')
      .header('content-disposition', `attachment; filename="${name.replaceAll(/[^\w.-]/g, '_')}"`);
    return file;
  });
}
