import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import * as queries from './queries.ts';
import { correctAnalysis, recordAnalysis } from './record.ts';
import { standardise } from './recompute.ts';
import { reviewAnalysis } from './review.ts';
import { viewAnalysis } from './view.ts';

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

  mount(app, contract.listAnalyses, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readAnalyses(db.run, { ...asked, before: beforeSample(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sampledAt.toISOString(), row.id] });
    return { items: await queries.toSummaries(db.run, items), next };
  });
  mount(app, contract.exportAnalyses, async ({ query, reply }) => {
    const rows = await queries.readResultRows(db.run, { ...query, limit: csvLimit });
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
  mount(app, contract.getAnalysis, ({ params }) => viewAnalysis(db.run, params.id));
  mount(app, contract.recordAnalysis, ({ actor, params, body, once }) =>
    recordAnalysis(db, { actor, bathId: params.id, input: body, once }),
  );
  mount(app, contract.correctAnalysis, ({ actor, params, body, once }) =>
    correctAnalysis(db, { actor, id: params.id, input: body, once }),
  );
  mount(app, contract.reviewAnalysis, ({ actor, params }) => reviewAnalysis(db, { actor, id: params.id }));
  mount(app, contract.standardiseTitrant, ({ actor, params, body, once }) =>
    standardise(db, { actor, titrantId: params.id, input: body, once }),
  );
}
