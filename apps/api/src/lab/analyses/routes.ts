import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import * as queries from './queries.ts';
import { correctAnalysis, recordAnalysis } from './record.ts';
import { standardise } from './recompute.ts';
import { reviewAnalysis } from './review.ts';
import { viewAnalysis } from './view.ts';
import { voidAnalysis } from './void.ts';

const beforeSample = (cursor: string | undefined) => {
  const [sampledAt, id] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof sampledAt === 'string' && !Number.isNaN(Date.parse(sampledAt)) && typeof id === 'number'
    ? {
        sampledAt: new Date(sampledAt).toISOString(),
        id: Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)),
      }
    : null;
};

export default function analyses(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listAnalyses, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readAnalyses(db.execute, { ...asked, before: beforeSample(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sampledAt.toISOString(), row.id] });
    return { items: await queries.toSummaries(db.execute, items), next };
  });
  registerRoute(app, contract.exportAnalyses, async ({ query, reply }) => {
    const rows = await queries.readResultRows(db.execute, { ...query, limit: csvLimit + 1 });
    return csvFile(reply, {
      name: 'analyses',
      heads: [
        ...[
          'number',
          'tank',
          'bath',
          'sampledAt',
          'method',
          'analyst',
          'superseded',
          'voided',
          'component',
          'value',
          'unit',
        ],
        ...[
          'referenceTemperatureC',
          'standardUncertainty',
          'target',
          'low',
          'high',
          'stopLow',
          'stopHigh',
          'state',
        ],
      ],
      rows: rows.map((row) => [
        ...[
          row.analysisNumber,
          row.tankCode,
          row.bathNumber,
          row.sampledAt.toISOString(),
          row.method,
          row.analyst,
        ],
        ...[
          row.superseded,
          row.voided,
          row.component,
          row.value,
          row.unit,
          row.referenceTemperatureC,
          row.standardUncertainty,
        ],
        ...[row.target, row.low, row.high, row.stopLow, row.stopHigh, row.state],
      ]),
    });
  });
  registerRoute(app, contract.getAnalysis, ({ params }) => viewAnalysis(db.execute, params.id));
  registerRoute(app, contract.recordAnalysis, ({ actor, params, body }) =>
    recordAnalysis(db, { actor, bathId: params.id, input: body }),
  );
  registerRoute(app, contract.correctAnalysis, ({ actor, params, body }) =>
    correctAnalysis(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.reviewAnalysis, ({ actor, params }) =>
    reviewAnalysis(db, { actor, id: params.id }),
  );
  registerRoute(app, contract.voidAnalysis, ({ actor, params, body }) =>
    voidAnalysis(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.standardiseTitrant, ({ actor, params, body }) =>
    standardise(db, { actor, titrantId: params.id, input: body }),
  );
}
