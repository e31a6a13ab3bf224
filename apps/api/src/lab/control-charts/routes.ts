import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { chartFile } from './chart-file.ts';
import { chooseBaseline, viewChart, viewWork } from './chart.ts';
import { readTimeZone } from './queries.ts';

export default function controlCharts(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getBathChart, ({ params, query }) =>
    viewChart(db, { tankId: params.id, query }),
  );
  registerRoute(app, contract.getBathWork, ({ params, query }) => viewWork(db, { tankId: params.id, query }));
  registerRoute(app, contract.exportBathChart, async ({ params, query, reply }) => {
    const chart = await viewChart(db, { tankId: params.id, query });
    return csvFile(reply, {
      name: `${chart.tank.code}-${query.component}`.replaceAll(/[^\w.-]/g, '_'),
      ...chartFile(chart, await readTimeZone(db.execute)),
    });
  });
  registerRoute(app, contract.setChartBaseline, ({ actor, params, body }) =>
    chooseBaseline(db, { actor, tankId: params.id, input: body }),
  );
}
