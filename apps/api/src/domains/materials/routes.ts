import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { inTransaction } from '../../db/client.ts';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import * as materials from './materials.ts';
import { readMaterials } from './queries.ts';

export default function materialsDomain(app: FastifyInstance): void {
  const { db } = app;

  mount(app, contract.listMaterials, async ({ query }) => {
    const limit = query.limit ?? 50;
    const rows = await readMaterials(db.run, { ...query, limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sortValue, row.id] });
    return { items: items.map(materials.toMaterial), next };
  });
  mount(app, contract.exportMaterials, async ({ query, reply }) =>
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
      rows: (await readMaterials(db.run, { ...query, limit: csvLimit })).map((row) => [
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
  mount(app, contract.getMaterial, ({ params }) => materials.getMaterial(db, params.id));
  mount(app, contract.createMaterial, ({ actor, body }) => materials.addMaterial(db, { actor, facts: body }));
  mount(app, contract.addMaterialLibrary, async ({ actor }) => ({
    added: await inTransaction(db, (tx) => materials.addStartingLibrary(tx.run, actor)),
  }));
  mount(app, contract.updateMaterial, ({ actor, params, version, body }) =>
    materials.changeMaterial(db, { actor, id: params.id, version, facts: body }),
  );
  mount(app, contract.archiveMaterial, ({ actor, params }) =>
    materials.setArchived(db, { actor, id: params.id, archived: true }),
  );
  mount(app, contract.unarchiveMaterial, ({ actor, params }) =>
    materials.setArchived(db, { actor, id: params.id, archived: false }),
  );
}
