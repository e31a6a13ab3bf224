import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLine } from '../../http/csv.ts';
import { mount, mountOpen } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { readBath, readSetupsOf, setBathSetup } from '../baths/index.ts';
import { viewAnalysisSheet, viewBath, viewBoard } from './bath-page.ts';
import { createFeed, readCalendar, revokeFeed } from './calendar.ts';
import { chooseBaseline, viewChart } from './chart.ts';
import { sendDigest } from './digest.ts';
import { importNotebook, preview, templateHeads } from './notebook.ts';
import { readMine, setEmail } from './reminder-queries.ts';
import { readReminders } from './reminders.ts';
import { viewStockRates } from './stock-rates.ts';

export default function lab(app: FastifyInstance): void {
  const { db } = app;

  mount(app, contract.listBathBoard, ({ query }) => viewBoard(db.run, query));
  mount(app, contract.getBathPage, ({ actor, params }) => viewBath(db.run, { actor, id: params.id }));
  mount(app, contract.setBathSetup, async ({ actor, params, version, body }) => {
    await setBathSetup(db, { actor, bathId: params.id, version, input: body });
    return viewBath(db.run, { actor, id: params.id });
  });
  mount(app, contract.getAnalysisSheet, ({ params }) => viewAnalysisSheet(db.run, params.id));

  mount(app, contract.getBathChart, ({ params, query }) => viewChart(db, { tankId: params.id, query }));
  mount(app, contract.exportBathChart, async ({ params, query, reply }) => {
    const { points, fills, tank } = await viewChart(db, { tankId: params.id, query });
    return csvFile(reply, {
      name: `${tank.code}-${query.component}`.replaceAll(/[^\w.-]/g, '_'),
      heads: ['sampledAt', 'bath', 'value', 'standardUncertainty'],
      rows: points.atMs.map((atMs, at) => [
        new Date(atMs).toISOString(),
        fills[points.fill[at] ?? -1]?.number ?? null,
        points.value[at],
        points.standardUncertainty[at],
      ]),
    });
  });
  mount(app, contract.setChartBaseline, ({ actor, params, body }) =>
    chooseBaseline(db, { actor, tankId: params.id, input: body }),
  );

  mount(app, contract.getNotebookTemplate, async ({ params, reply }) => {
    const bath = found(await readBath(db.run, params.id), `bath ${params.id}`);
    const heads = templateHeads((await readSetupsOf(db.run, [params.id])).get(params.id) ?? null);
    reply
      .type('text/csv; charset=utf-8')
      .header(
        'content-disposition',
        `attachment; filename="${bath.number.replaceAll(/[^\w.-]/g, '_')}-notebook.csv"`,
      );
    return csvLine(heads);
  });
  mount(app, contract.previewNotebook, ({ params, body }) =>
    preview(db.run, { bathId: params.id, input: body }),
  );
  mount(app, contract.importNotebook, ({ actor, params, body, once }) =>
    importNotebook(db, { actor, bathId: params.id, input: body, once }),
  );

  mount(app, contract.getStockRates, ({ query }) => viewStockRates(db.run, query));

  mount(app, contract.listBathReminders, async () => ({ items: await readReminders(db.run) }));
  const mine = async (personId: number) => {
    const { feeds, ...rest } = await readMine(db.run, personId);
    return {
      ...rest,
      canSend: app.mailer !== null,
      feeds: feeds.map((feed) => ({
        ...feed,
        createdAt: feed.createdAt.toISOString(),
        lastReadAt: feed.lastReadAt?.toISOString() ?? null,
      })),
    };
  };
  mount(app, contract.getMyReminders, ({ actor }) => mine(actor.personId));
  mount(app, contract.setMyReminders, async ({ actor, body }) => {
    await setEmail(db.run, { personId: actor.personId, email: body.email });
    return mine(actor.personId);
  });
  mount(app, contract.sendMyDigest, ({ actor }) =>
    sendDigest(db, { personId: actor.personId, mailer: app.mailer, publicUrl: app.publicUrl }),
  );
  mount(app, contract.createCalendarFeed, ({ actor }) => createFeed(db, { actor, publicUrl: app.publicUrl }));
  mount(app, contract.revokeCalendarFeed, ({ actor, params }) => revokeFeed(db, { actor, id: params.id }));
  mountOpen(app, contract.getCalendar, async ({ params, reply }) => {
    const text = await readCalendar(db.run, { secret: params.secret, publicUrl: app.publicUrl });
    reply.type('text/calendar; charset=utf-8').header('cache-control', 'private, no-store');
    return text;
  });
}
