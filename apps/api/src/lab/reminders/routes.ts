import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute, registerPublicRoute } from '../../http/route.ts';
import { createFeed, readCalendar, revokeFeed } from './calendar.ts';
import { sendMyDigest, setMyReminders } from './digest.ts';
import { readMine } from './queries.ts';
import { readReminders } from './reminders.ts';

export default function reminders(app: FastifyInstance): void {
  const { db, publicUrl } = app;
  registerRoute(app, contract.listBathReminders, async () => ({ items: await readReminders(db.execute) }));
  const mine = async (personId: number) => {
    const { feeds, ...rest } = await readMine(db.execute, personId);
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
  registerRoute(app, contract.getMyReminders, ({ actor }) => mine(actor.personId));
  registerRoute(app, contract.setMyReminders, async ({ actor, body }) => {
    await setMyReminders(db, { actor, email: body.email });
    return mine(actor.personId);
  });
  registerRoute(app, contract.sendMyDigest, ({ actor }) =>
    sendMyDigest(db, { actor, mailer: app.mailer, publicUrl }),
  );
  registerRoute(app, contract.createCalendarFeed, ({ actor }) => createFeed(db, { actor, publicUrl }));
  registerRoute(app, contract.revokeCalendarFeed, ({ actor, params }) =>
    revokeFeed(db, { actor, id: params.id }),
  );
  registerPublicRoute(app, contract.getCalendar, async ({ params, reply }) => {
    const text = await readCalendar(db.execute, { secret: params.secret, publicUrl });
    reply.type('text/calendar; charset=utf-8').header('cache-control', 'private, no-store');
    return text;
  });
}
