import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { readCouponFilm } from './coupon-film.ts';
import { keepMeasurement, readMeasurement, withdrawMeasurement } from './measurements.ts';
import * as queries from './queries.ts';

const beforeId = (cursor: string | undefined): number | null => {
  const id = decodeCursor(cursor, ['number'])?.[0];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function filmMeasurements(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listFilmMeasurements, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: beforeId(after), limit });
    return toPage({ rows, limit, cursorOf: (row) => [row.id] });
  });
  registerRoute(app, contract.exportFilmMeasurements, async ({ query, reply }) => {
    const rows = await queries.readItems(db.execute, { ...query, after: null, limit: csvLimit });
    return csvFile(reply, {
      name: 'film-measurements',
      heads: [
        ...['number', 'measuredOn', 'series', 'mark', 'material', 'condition', 'method', 'laboratory'],
        ...figureHeads,
        'flags',
      ],
      rows: rows.map((row) => {
        const figures = figuresOf(row.result);
        return [
          ...[
            row.number,
            row.measuredOn,
            row.series.code,
            row.mark,
            row.material.name,
            row.material.condition,
          ],
          ...[row.result.kind, row.laboratory],
          ...figureHeads.map((head) => figures[head]),
          row.result.flags.join('; '),
        ];
      }),
    });
  });
  registerRoute(app, contract.getFilmMeasurement, ({ params }) => readMeasurement(db.execute, params.id));
  registerRoute(app, contract.getCouponFilm, ({ params, query }) =>
    readCouponFilm(db.execute, { seriesId: params.id, mark: query.mark }),
  );
  registerRoute(app, contract.createFilmMeasurement, ({ actor, body }) =>
    keepMeasurement(db, { actor, input: body, replaces: null }),
  );
  registerRoute(app, contract.replaceFilmMeasurement, ({ actor, params, body }) => {
    const { reason, ...input } = body;
    return keepMeasurement(db, { actor, input, replaces: { id: params.id, reason } });
  });
  registerRoute(app, contract.withdrawFilmMeasurement, ({ actor, params, body }) =>
    withdrawMeasurement(db, { actor, id: params.id, reason: body.reason }),
  );
}

const figureHeads = [
  ...(['thicknessNm', 'standardUncertaintyNm', 'thicknessLowNm', 'thicknessHighNm'] as const),
  ...(['areaFraction', 'areaFractionStandardUncertainty', 'phases'] as const),
  ...(['sealLossMgPerDm2', 'sealVerdict'] as const),
];

/** What a method gives, by the head of its column. */
function figuresOf(
  result: contract.FilmResult,
): Partial<Record<(typeof figureHeads)[number], string | number>> {
  switch (result.kind) {
    case 'cross-section':
    case 'coating-mass': {
      const { thicknessNm, standardUncertaintyNm, intervalNm } = result;
      const ends = { thicknessLowNm: intervalNm.low, thicknessHighNm: intervalNm.high };
      return { thicknessNm, standardUncertaintyNm, ...ends };
    }
    case 'pores':
      return {
        areaFraction: result.areaFraction,
        areaFractionStandardUncertainty: result.areaFractionUncertainty,
      };
    case 'diffraction':
      return { phases: result.phases.map(({ phase }) => phase).join(' ') };
    case 'seal-loss':
      return { sealLossMgPerDm2: result.lossMgPerDm2, sealVerdict: result.verdict };
  }
}
