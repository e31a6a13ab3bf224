import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { inTransaction } from '../../db/client.ts';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import * as materials from './materials.ts';
import { readMaterials } from './queries.ts';

export default function materialsDomain(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listMaterials, async ({ query }) => {
    const limit = query.limit ?? 50;
    const rows = await readMaterials(db.execute, { ...query, limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sortValue, row.id] });
    return { items: items.map(materials.toMaterial), next };
  });
  registerRoute(app, contract.exportMaterials, async ({ query, reply }) =>
    csvFile(reply, {
      name: 'materials',
      heads: [
        'name',
        'designation',
        'condition',
        'baseMetal',
        'densityKgPerM3',
        'heatCapacityJPerKgK',
        'source',
        'evidence',
        'parts',
        'archived',
      ],
      rows: (await readMaterials(db.execute, { ...query, limit: csvLimit })).map((row) => [
        row.name,
        row.designation,
        row.condition,
        row.baseMetal,
        row.densityKgPerM3,
        row.heatCapacityJPerKgK,
        row.source,
        row.evidence,
        row.partCount,
        row.archivedAt !== null,
      ]),
    }),
  );
  registerRoute(app, contract.getMaterial, ({ params }) => materials.getMaterial(db, params.id));
  registerRoute(app, contract.createMaterial, ({ actor, body }) =>
    materials.addMaterial(db, { actor, facts: body }),
  );
  registerRoute(app, contract.addMaterialLibrary, async ({ actor }) => ({
    added: await inTransaction(db, (tx) => materials.addStartingLibrary(tx.execute, actor)),
  }));
  registerRoute(app, contract.updateMaterial, ({ actor, params, version, body }) =>
    materials.changeMaterial(db, { actor, id: params.id, version, facts: body }),
  );
  registerRoute(app, contract.archiveMaterial, ({ actor, params }) =>
    materials.setArchived(db, { actor, id: params.id, archived: true }),
  );
  registerRoute(app, contract.unarchiveMaterial, ({ actor, params }) =>
    materials.setArchived(db, { actor, id: params.id, archived: false }),
  );
}
