import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { swatchSheetPdf } from '../../documents/swatch-sheet-pdf.ts';
import { csvFile } from '../../http/csv.ts';
import { pdfFile } from '../../http/pdf.ts';
import { registerRoute } from '../../http/route.ts';
import { actorMay } from '../../kernel/actor.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { isAfter, readCatalogue, withRecords, type RowKey } from './catalogue.ts';
import { readShop } from './queries.ts';

export default function colourCatalogue(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listColourCatalogue, async ({ actor, query }) => {
    const { after, limit = 50, ...asked } = query;
    const cursor = decodeCursor(after, ['number', 'string', 'string']) as RowKey | null;
    const all = await readCatalogue(db.execute, asked);
    const rows = all.filter(({ key }) => cursor === null || isAfter(key, cursor)).slice(0, limit + 1);
    const { items, next } = toPage({ rows, limit, cursorOf: ({ key }) => key });
    return {
      items: await withRecords(
        db.execute,
        items.map(({ colour }) => colour),
        { mayPrice: actorMay(actor, 'quotations.read') },
      ),
      next,
    };
  });

  registerRoute(app, contract.exportColourCatalogue, async ({ actor, query, reply }) => {
    const rows = (await readCatalogue(db.execute, query)).map(({ colour }) => colour);
    const mayPrice = actorMay(actor, 'quotations.read');
    const colours = await withRecords(db.execute, rows, { mayPrice });
    return csvFile(reply, {
      name: 'colours',
      heads: [
        ...['recipe', 'revision', 'name', 'colour', 'family', 'class', 'baseMetal', 'alloy', 'condition'],
        ...['L', 'a', 'b', 'figuresFrom', 'grade', 'coupons', 'trialLots', 'firstArticles', 'expiresOn'],
        ...['spreadDeltaEab', 'readings', 'lots', 'priceLowPerDm2', 'priceHighPerDm2', 'currency'],
        ...['standard', 'quotedLines', 'lastLot', 'lastMadeAt', 'deltaE00', 'onMaterial'],
      ],
      rows: colours.map((one) => [
        ...[one.recipe.number, one.recipe.revision, one.recipe.name, one.words, one.family, one.class],
        ...[one.alloy?.baseMetal ?? one.baseMetals.join(' '), one.alloy?.name, one.alloy?.condition],
        ...[one.colour?.lab.L, one.colour?.lab.a, one.colour?.lab.b, one.colour?.from, one.grade],
        ...[one.proof.coupons, one.proof.trialLots, one.proof.firstArticles, one.proof.expiresOn],
        ...[one.spread?.deltaEab, one.spread?.readings, one.spread?.lots],
        ...[one.price?.low, one.price?.high, one.price?.currency, one.standard?.code, one.price?.lines],
        ...[one.lastMade?.lot, one.lastMade?.at, one.distance, one.verdict?.state],
      ]),
    });
  });

  registerRoute(app, contract.printColourCatalogue, async ({ query, reply }) => {
    const [rows, shop] = await Promise.all([readCatalogue(db.execute, query), readShop(db.execute)]);
    const file = await swatchSheetPdf({ colours: rows.map(({ colour }) => colour), shop });
    return pdfFile(reply, { name: `colours-${shop.day}.pdf`, file });
  });
}
