import * as contract from '@huelot/contracts';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { mount, mountOpen } from '../../http/route.ts';
import { giveToken, takeToken } from '../../plugins/cookie.ts';
import { found } from '../../refusal.ts';
import * as accounts from './accounts.ts';
import * as queries from './queries.ts';
import { absoluteS, readMe, signInWithPassword } from './sign-in.ts';

const from = (request: FastifyRequest) => ({
  address: request.ip,
  agent: request.headers['user-agent'] ?? '',
});

export default function people(app: FastifyInstance): void {
  const { db } = app;
  const welcome = (reply: FastifyReply, opened: { token: string; person: { id: number } }) => {
    giveToken(reply, opened.token, absoluteS);
    return readMe(db, opened.person.id);
  };

  mountOpen(app, contract.getSetUpState, async () => ({ setUp: await queries.anybody(db) }));
  mountOpen(app, contract.signIn, async ({ body, request, reply }) =>
    welcome(reply, await signInWithPassword(db, { ...body, from: from(request) })),
  );
  mountOpen(app, contract.getInvitation, async ({ params }) => {
    const { person } = await accounts.readInvitation(db, params.token);
    const shop = await queries.readShop(db);
    return { name: person.name, displayName: person.displayName, shopName: shop.name };
  });
  mountOpen(app, contract.acceptInvitation, async ({ params, body, request, reply }) =>
    welcome(
      reply,
      await accounts.choosePassword(db, {
        token: params.token,
        password: body.password,
        from: from(request),
      }),
    ),
  );

  mount(app, contract.signOut, async ({ actor, reply }) => {
    await queries.endSignIns(db, { personId: actor.personId, only: actor.signInId });
    takeToken(reply);
    return {};
  });
  mount(app, contract.signOutEverywhere, async ({ actor, reply }) => {
    await queries.endSignIns(db, { personId: actor.personId });
    takeToken(reply);
    return {};
  });
  mount(app, contract.getMe, ({ actor }) => readMe(db, actor.personId));
  mount(app, contract.setPreferences, async ({ actor, body }) => {
    await queries.changePerson(db, actor.personId, body);
    return readMe(db, actor.personId);
  });
  mount(app, contract.changePassword, async ({ actor, body }) => {
    await accounts.changeMyPassword(db, { actor, ...body });
    return {};
  });
  mount(app, contract.setPin, async ({ actor, body }) => {
    await accounts.setMyPin(db, { actor, ...body });
    return {};
  });
  mount(app, contract.listMySignIns, async ({ actor }) => ({
    items: (await queries.openSignIns(db, actor.personId)).map((row) => ({
      id: row.id,
      createdAt: row.createdAt.toISOString(),
      lastSeenAt: row.lastSeenAt.toISOString(),
      address: row.address,
      agent: row.agent,
      current: row.id === actor.signInId,
    })),
  }));
  mount(app, contract.endMySignIn, async ({ actor, params }) => {
    const { count } = await queries.endSignIns(db, { personId: actor.personId, only: params.id });
    found(count || null, `open sign-in ${params.id} of yours`);
    return {};
  });

  mount(app, contract.listPeople, async () => ({
    items: (await queries.readPeople(db)).map(accounts.toPerson),
  }));
  mount(app, contract.getPerson, async ({ params }) =>
    accounts.toPerson(found(await queries.readPerson(db, params.id), `person ${params.id}`)),
  );
  mount(app, contract.invitePerson, ({ actor, body }) => accounts.invite(db, { actor, input: body }));
  mount(app, contract.updatePerson, ({ actor, params, version, body }) =>
    accounts.change(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.issueLink, ({ actor, params }) =>
    accounts.issuePasswordLink(db, { actor, personId: params.id }),
  );
  mount(app, contract.listSigners, async () => ({
    items: await queries.readWithPin(db, contract.permissions['steps.sign']),
  }));
  mount(app, contract.listPermitters, async () => ({
    items: await queries.readWithPin(db, contract.permissions['lab.override']),
  }));
}
