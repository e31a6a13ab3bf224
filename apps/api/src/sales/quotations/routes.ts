import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import type { Db } from '../../db/client.ts';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { pdfFile } from '../../http/pdf.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readExchangeRates } from '../../catalog/rates/index.ts';
import { CALC_VERSION } from './price.ts';
import { closeQuotation, sendQuotation } from './decide.ts';
import { discardDraft } from './discard.ts';
import * as drafts from './drafts.ts';
import { listPapers, printQuotation } from './paper.ts';
import { redactRates, loadQuotation } from './read-quotation.ts';
import { readQuotations } from './list-queries.ts';
import * as sheet from './sheet-queries.ts';

type QuotationsAsked = Omit<Parameters<typeof readQuotations>[1], 'before'>;

export default function quotationRoutes(app: FastifyInstance): void {
  const { db } = app;
  const readPage = async ({ after, ...asked }: QuotationsAsked & { after: string | undefined }) => {
    const cursor = decodeCursor(after, ['number']);
    return toPage({
      rows: await readQuotations(db.execute, {
        ...asked,
        before: cursor === null ? null : Number(cursor[0]),
      }),
      limit: asked.limit,
      cursorOf: (row) => [row.id],
    });
  };
  registerRoute(app, contract.listQuotations, ({ query: { after, limit = 50, ...asked } }) =>
    readPage({ ...asked, after, limit }),
  );
  registerRoute(app, contract.exportQuotations, ({ query, reply }) =>
    Promise.resolve(
      streamCsv(reply, {
        name: 'quotations',
        heads: [
          ...['number', 'revision', 'status', 'customer', 'lines', 'lowestPrice', 'highestPrice'],
          ...['currency', 'exchangeRate', 'validUntil', 'createdAt'],
        ],
        read: (after) => readPage({ ...query, after, limit: CSV_PAGE }),
        linesOf: (row) => [
          [
            ...[row.number, row.revision, row.status, row.customer.name, row.lineCount],
            ...[row.lowest, row.highest, row.currency, row.exchangeRate, row.validUntil, row.createdAt],
          ],
        ],
      }),
    ),
  );
  registerRoute(app, contract.getQuotation, async ({ actor, params, query }) =>
    redactRates(actor, await loadQuotation(db, { ...params, ...query })),
  );
  registerRoute(app, contract.getQuotationSheet, async ({ params }) => {
    const [work, rateCard, defaults] = await Promise.all([
      readWork(db, params.id),
      sheet.readRateCard(db.execute),
      sheet.readDefaults(db.execute),
    ]);
    return {
      ...work,
      rateCard,
      baseCurrency: defaults.baseCurrency,
      exchangeRates: await readExchangeRates(db.execute, { currency: work.customer.currency, limit: 20 }),
      validUntil: defaults.validUntil,
      leadTimeDays: defaults.leadTimeDays,
      terms: work.customer.terms || defaults.terms,
      calcVersion: CALC_VERSION,
    };
  });
  registerRoute(app, contract.getOrderSheet, ({ params }) => readWork(db, params.id));
  registerRoute(app, contract.createQuotation, ({ actor, body }) =>
    drafts.createQuotation(db, { actor, input: body }),
  );
  registerRoute(app, contract.updateQuotation, ({ actor, params, version, body }) =>
    drafts.changeQuotation(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.sendQuotation, ({ actor, params, version, body }) =>
    sendQuotation(db, { actor, id: params.id, version, unproved: body.unproved }),
  );
  registerRoute(app, contract.closeQuotation, ({ actor, params, version, body }) =>
    closeQuotation(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.discardQuotationDraft, ({ actor, params, version }) =>
    discardDraft(db, { actor, id: params.id, version }),
  );
  registerRoute(app, contract.reviseQuotation, ({ actor, params }) =>
    drafts.reviseQuotation(db, { actor, id: params.id }),
  );
  registerRoute(app, contract.copyQuotation, ({ actor, params }) =>
    drafts.copyQuotation(db, { actor, id: params.id }),
  );

  registerRoute(app, contract.printQuotation, async ({ actor, params, reply }) =>
    pdfFile(reply, await printQuotation(db, { actor, ...params })),
  );
  registerRoute(app, contract.listQuotationPapers, ({ params }) => listPapers(db, params.id));
}

/** What work for a customer can name: parts, recipes, racks, supplies. */
async function readWork(db: Db, customerId: number) {
  const [customer, parts, recipes, racks, supplies, tanks] = await Promise.all([
    sheet.readCustomer(db.execute, customerId),
    sheet.readSheetParts(db.execute, customerId),
    sheet.readSheetRecipes(db.execute),
    sheet.readSheetRacks(db.execute),
    sheet.readSheetSupplies(db.execute),
    sheet.readSheetTanks(db.execute),
  ]);
  return { customer: orNotFound(customer, `customer ${customerId}`), parts, recipes, racks, supplies, tanks };
}
