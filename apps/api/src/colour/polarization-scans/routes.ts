import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import * as queries from './queries.ts';
import { keepScan, readScan } from './scans.ts';

const beforeId = (cursor: string | undefined): number | null => {
  const id = decodeCursor(cursor, ['number'])?.[0];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function polarizationScans(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listPolarizationScans, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: beforeId(after), limit });
    return toPage({ rows, limit, cursorOf: (row) => [row.id] });
  });
  registerRoute(app, contract.exportPolarizationScans, async ({ query, reply }) => {
    const rows = await queries.readItems(db.execute, { ...query, after: null, limit: csvLimit });
    return csvFile(reply, {
      name: 'polarization-scans',
      heads: [
        ...['number', 'scannedOn', 'material', 'condition', 'finish', 'specimen', 'film', 'medium'],
        ...[
          'polarizationResistanceOhmCm2',
          'corrosionPotentialV',
          'mmPerYear',
          'mmPerYearLow',
          'mmPerYearHigh',
          'flags',
        ],
      ],
      rows: rows.map(({ material, result, ...row }) => [
        ...[
          row.number,
          row.scannedOn,
          material.name,
          material.condition,
          row.finish,
          row.specimen,
          row.film,
          row.medium,
        ],
        ...[result.polarizationResistanceOhmCm2, result.corrosionPotentialV, result.mmPerYear],
        ...[result.intervalMmPerYear?.low, result.intervalMmPerYear?.high, result.flags.join('; ')],
      ]),
    });
  });
  registerRoute(app, contract.getPolarizationScan, ({ params }) => readScan(db, params.id));
  registerRoute(app, contract.createPolarizationScan, ({ actor, body }) =>
    keepScan(db, { actor, input: body, replaces: null }),
  );
  registerRoute(app, contract.replacePolarizationScan, ({ actor, params, body }) => {
    const { reason, ...input } = body;
    return keepScan(db, { actor, input, replaces: { id: params.id, reason } });
  });
}
