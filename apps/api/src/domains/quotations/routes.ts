import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { quotationPdf } from '../../documents/quotation-pdf.ts';
import { sendPdf } from '../../http/pdf.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { CALC_VERSION } from './price.ts';
import { close, send } from './decide.ts';
import * as drafts from './drafts.ts';
import { forEyesOf, readWhole } from './read-quotation.ts';
import * as queries from './queries.ts';
import * as sheet from './sheet-queries.ts';

export default function quotationRoutes(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.listQuotations, async ({ query }) => {
    const { limit = 50, after, ...filters } = query;
    const cursor = decodeCursor(after, ['number']);
    const rows = await queries.readQuotations(db.run, {
      ...filters,
      limit,
      before: cursor === null ? null : Number(cursor[0]),
    });
    return toPage({ rows, limit, cursorOf: (row) => [row.id] });
  });
  mount(app, contract.exportQuotations, async ({ query, reply }) =>
    csvFile(reply, {
      name: 'quotations',
      heads: [
        ...['number', 'revision', 'status', 'customer', 'lines', 'lowestPrice', 'highestPrice'],
        ...['currency', 'validUntil', 'createdAt'],
      ],
      rows: (await queries.readQuotations(db.run, { ...query, before: null, limit: csvLimit })).map((row) => [
        ...[row.number, row.revision, row.status, row.customer.name, row.lineCount],
        ...[row.lowest, row.highest, row.currency, row.validUntil, row.createdAt],
      ]),
    }),
  );
  mount(app, contract.getQuotation, async ({ actor, params, query }) =>
    forEyesOf(actor, await readWhole(db, { ...params, ...query })),
  );
  mount(app, contract.getQuotationSheet, async ({ params }) => {
    const customer = found(
      await sheet.readCustomer(db.run, params.customerId),
      `customer ${params.customerId}`,
    );
    const [parts, recipes, racks, supplies, rateCard, defaults] = await Promise.all([
      sheet.readSheetParts(db.run, customer.id),
      sheet.readSheetRecipes(db.run),
      sheet.readSheetRacks(db.run),
      sheet.readSheetSupplies(db.run),
      sheet.readRateCard(db.run),
      sheet.readDefaults(db.run),
    ]);
    return {
      customer,
      parts,
      recipes,
      racks,
      supplies,
      rateCard,
      validUntil: defaults.validUntil,
      leadTimeDays: defaults.leadTimeDays,
      terms: customer.terms || defaults.terms,
      calcVersion: CALC_VERSION,
    };
  });
  mount(app, contract.createQuotation, ({ actor, body }) => drafts.create(db, { actor, input: body }));
  mount(app, contract.updateQuotation, ({ actor, params, version, body }) =>
    drafts.change(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.sendQuotation, ({ actor, params, version }) =>
    send(db, { actor, id: params.id, version }),
  );
  mount(app, contract.closeQuotation, ({ actor, params, version, body }) =>
    close(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.reviseQuotation, ({ actor, params }) => drafts.revise(db, { actor, id: params.id }));
  mount(app, contract.copyQuotation, ({ actor, params }) => drafts.copy(db, { actor, id: params.id }));

  const { path, access, params: pdfPath } = contract.quotationPdf;
  app.get(`/api${path}`, {
    config: { access, rateLimit: { max: 120, timeWindow: '1 minute' } },
    schema: { summary: 'A quotation as the customer gets it', tags: ['quotations'], params: pdfPath },
    handler: async (request, reply) => {
      const { id, revision } = pdfPath.parse(request.params);
      const actor = found(request.actor, 'sign-in');
      const quotation = await readWhole(db, { id, revision });
      const { shop, customerAddress } = await queries.readLetterhead(db.run, quotation.customer.id);
      const file = await quotationPdf({
        quotation,
        shop,
        customerAddress,
        reader: { units: actor.units, timeZone: shop.timeZone },
        printedBy: actor.displayName,
        printedAt: new Date(),
      });
      return sendPdf(reply, { name: `${quotation.number}-rev-${revision}.pdf`, file });
    },
  });
}
