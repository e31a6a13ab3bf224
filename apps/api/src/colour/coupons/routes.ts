import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { approvalOf } from '../../core/people/index.ts';
import { approveSeries, retireSeries } from './approval.ts';
import { viewBathColour } from './colour-now.ts';
import { discardSeries, reviseSeries, startSeries, writeSeries } from './drafts.ts';
import * as queries from './queries.ts';
import { readCouponSeries, toItem } from './views.ts';

const afterRevision = (cursor: string | undefined) => {
  const [code, revision] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof code === 'string' && typeof revision === 'number'
    ? { code, revision: Math.trunc(Math.min(Math.max(revision, 0), 2_147_483_647)) }
    : null;
};

const protection = { true: 'yes', false: 'no', null: 'unknown' } as const;
function cellOf(trial: contract.CouponTrial, column: contract.CouponColumn) {
  if (column === 'L' || column === 'a' || column === 'b') return trial.lab?.[column];
  return column === 'protects' ? protection[`${trial.protects}`] : trial[column];
}

export default function coupons(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listCouponSeries, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: afterRevision(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code, row.revision] });
    return { items: items.map(toItem), next };
  });
  registerRoute(app, contract.exportCouponSeries, async ({ query, reply }) => {
    const rows = await queries.readItems(db.execute, { ...query, after: null, limit: csvLimit });
    return csvFile(reply, {
      name: 'coupon-series',
      heads: [
        'code',
        'revision',
        'status',
        'name',
        'material',
        'condition',
        'contents',
        'coupons',
        'approvedAt',
      ],
      rows: rows.map((row) => [
        ...[row.code, row.revision, row.status, row.name, row.material.name, row.material.condition],
        ...[row.contents, row.trialCount, row.approvedAt?.toISOString()],
      ]),
    });
  });
  registerRoute(app, contract.getCouponSeries, ({ params }) => readCouponSeries(db.execute, params.id));
  registerRoute(app, contract.exportCouponTrials, async ({ params, reply }) => {
    const { code, revision, contents, trials } = await readCouponSeries(db.execute, params.id);
    const { required, optional } = contract.couponColumnsOf(contents);
    const heads = [...required, ...optional];
    return csvFile(reply, {
      name: `${code}-${revision}`.replaceAll(/[^\w.-]/g, '_'),
      heads,
      rows: trials.map((trial) => heads.map((column) => cellOf(trial, column))),
    });
  });
  registerRoute(app, contract.createCouponSeries, ({ actor, body }) =>
    startSeries(db, { actor, input: body }),
  );
  registerRoute(app, contract.updateCouponSeries, ({ actor, params, version, body }) =>
    writeSeries(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.reviseCouponSeries, ({ actor, params, body }) =>
    reviseSeries(db, { actor, id: params.id, changeNote: body.changeNote }),
  );
  registerRoute(app, contract.discardCouponSeries, async ({ actor, params, version }) => {
    await discardSeries(db, { actor, id: params.id, version });
    return {};
  });
  registerRoute(app, contract.getCouponApproval, async ({ actor, params }) => {
    const { writers } = await readCouponSeries(db.execute, params.id);
    return approvalOf(db, { actor, writers, permission: 'coupons.approve' });
  });
  registerRoute(app, contract.approveCouponSeries, ({ actor, params, version, body }) =>
    approveSeries(db, { actor, id: params.id, version, typedName: body.typedName }),
  );
  registerRoute(app, contract.retireCouponSeries, ({ actor, params, version, body }) =>
    retireSeries(db, { actor, id: params.id, version, reason: body.reason }),
  );

  registerRoute(app, contract.getBathColour, ({ params }) => viewBathColour(db, params.id));
}
