import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { actorMay, type Actor } from '../../kernel/actor.ts';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { setArchived } from './archive-part.ts';
import * as measurements from './measurements.ts';
import { openMeasuring } from './measuring.ts';
import { getPart, toItem } from './part.ts';
import { readItems, type ItemRow } from './queries.ts';
import { addPart, changePart, revisePart } from './save-part.ts';
import { readLotUses, readOrderUses, readQuotationUses, type UseRow } from './use-queries.ts';

export default function partsDomain(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listParts, async ({ query }) => {
    const limit = query.limit ?? 50;
    const rows = await readItems(db.execute, { ...query, limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sortValue, row.id] });
    return { items: items.map(toItem), next };
  });
  registerRoute(app, contract.exportParts, async ({ query, reply }) =>
    csvFile(reply, {
      name: 'parts',
      heads: csvHeads,
      rows: (await readItems(db.execute, { ...query, limit: csvLimit })).map(csvCells),
    }),
  );
  registerRoute(app, contract.getPart, ({ params }) => getPart(db.execute, params.id));
  registerRoute(app, contract.getPartUses, async ({ actor, params }) => usesOf(actor, params.id));
  registerRoute(app, contract.createPart, ({ actor, body: { customerId, ...facts } }) =>
    addPart(db, { actor, customerId, facts }),
  );
  registerRoute(app, contract.updatePart, ({ actor, params, version, body }) =>
    changePart(db, { actor, id: params.id, version, facts: body }),
  );
  registerRoute(app, contract.revisePart, ({ actor, params, version, body }) =>
    revisePart(db, { actor, id: params.id, version, facts: body }),
  );
  registerRoute(app, contract.archivePart, ({ actor, params }) =>
    setArchived(db, { actor, id: params.id, archived: true }),
  );
  registerRoute(app, contract.unarchivePart, ({ actor, params }) =>
    setArchived(db, { actor, id: params.id, archived: false }),
  );

  const measuring = openMeasuring(db.execute, app.log);
  app.addHook('onClose', () => measuring.close());
  registerRoute(app, contract.measureFile, ({ actor, body }) =>
    measurements.measureFile(db, { actor, fileId: body.fileId, measuring }),
  );
  registerRoute(app, contract.getMeasurement, ({ params }) => measurements.getMeasurement(db, params.id));
  registerRoute(app, contract.cancelMeasurement, ({ params }) =>
    measurements.cancelMeasurement(db, { id: params.id, measuring }),
  );
  registerRoute(app, contract.getMeasurementPreview, async ({ params, reply }) => {
    const bytes = await measurements.getPreview(db, params.id);
    reply.type('application/octet-stream').header('cache-control', 'private, max-age=31536000, immutable');
    return bytes;
  });

  async function usesOf(actor: Actor, partId: number) {
    await getPart(db.execute, partId);
    const allowed = async (permission: contract.Permission, read: typeof readLotUses) =>
      actorMay(actor, permission) ? (await read(db.execute, partId)).map(toUse) : null;
    return {
      quotations: await allowed('quotations.read', readQuotationUses),
      orders: await allowed('orders.read', readOrderUses),
      lots: await allowed('lots.read', readLotUses),
    };
  }
}

const toUse = ({ createdAt, ...row }: UseRow) => ({ ...row, createdAt: createdAt.toISOString() });

const csvHeads = [
  'customerNumber',
  'customer',
  'number',
  'revision',
  'description',
  'material',
  'areaMm2',
  'areaMethod',
  'massKg',
  'superseded',
  'archived',
  'addedAt',
];
const csvCells = (row: ItemRow) => [
  row.customerNumber,
  row.customerName,
  row.number,
  row.revision,
  row.description,
  row.materialName,
  row.areaMm2,
  row.areaMethod,
  row.massKg,
  row.superseded,
  row.archived,
  row.createdAt.toISOString(),
];
