import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute, registerPublicRoute } from '../../http/route.ts';
import { readDevice, takeToken } from '../../plugins/cookie.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import * as accounts from './accounts.ts';
import { from, letIn } from './let-in.ts';
import * as links from './links.ts';
import * as queries from './queries.ts';
import { readMe, personOfPassword } from './sign-in.ts';
import * as kept from './kept-form-queries.ts';
import { discardKept, keepForm } from './kept-forms.ts';

export default function people(app: FastifyInstance): void {
  const { db } = app;
  registerPublicRoute(app, contract.getSetUpState, async () => ({ setUp: await queries.hasUsers(db) }));
  registerPublicRoute(app, contract.signIn, async ({ body, request, reply }) =>
    letIn(
      request,
      reply,
      await personOfPassword(db, { ...body, device: readDevice(request), from: from(request) }),
    ),
  );
  registerPublicRoute(app, contract.getInvitation, async ({ params, request }) => {
    const { person } = await links.countedInvitation(db, {
      token: params.token,
      address: request.ip,
    });
    const shop = await queries.readShop(db);
    return { name: person.name, displayName: person.displayName, shopName: shop.name };
  });
  registerPublicRoute(app, contract.acceptInvitation, async ({ params, body, request, reply }) =>
    letIn(
      request,
      reply,
      await links.choosePassword(db, {
        token: params.token,
        password: body.password,
        from: from(request),
      }),
    ),
  );

  registerRoute(app, contract.signOut, async ({ actor, reply }) => {
    await accounts.signOut(db, actor);
    takeToken(reply);
    return {};
  });
  registerRoute(app, contract.signOutEverywhere, async ({ actor, reply }) => {
    await accounts.signOutEverywhere(db, actor);
    takeToken(reply);
    return {};
  });
  registerRoute(app, contract.getMe, ({ actor }) => readMe(db, actor.personId));
  registerRoute(app, contract.setPreferences, async ({ actor, body }) => {
    await accounts.setMyPreferences(db, { actor, input: body });
    return readMe(db, actor.personId);
  });
  registerRoute(app, contract.changePassword, async ({ actor, body }) => {
    await accounts.changeMyPassword(db, { actor, ...body });
    return {};
  });
  registerRoute(app, contract.setPin, async ({ actor, body }) => {
    await accounts.setMyPin(db, { actor, ...body });
    return {};
  });
  registerRoute(app, contract.listKeptForms, async ({ actor }) => ({
    items: await kept.listKept(db.execute, actor.personId),
  }));
  registerRoute(app, contract.getKeptForm, async ({ actor, params }) => {
    const [row] = await kept.readKept(db.execute, { personId: actor.personId, id: params.id });
    return orNotFound(row, `half-written form ${params.id} of yours`);
  });
  registerRoute(app, contract.keepForm, ({ actor, body }) => keepForm(db, { actor, input: body }));
  registerRoute(app, contract.discardKeptForm, async ({ actor, params }) => {
    await discardKept(db, { actor, id: params.id });
    return {};
  });
  registerRoute(app, contract.listMySignIns, async ({ actor }) => ({
    items: (await queries.openSignIns(db, actor.personId)).map((row) => ({
      id: row.id,
      createdAt: row.createdAt.toISOString(),
      lastSeenAt: row.lastSeenAt.toISOString(),
      address: row.address,
      agent: row.agent,
      current: row.id === actor.signInId,
    })),
  }));
  registerRoute(app, contract.endMySignIn, async ({ actor, params }) => {
    await accounts.endMySignIn(db, { actor, id: params.id });
    return {};
  });

  registerRoute(app, contract.listPeople, async () => ({
    items: (await queries.readPeople(db)).map(accounts.toPerson),
  }));
  registerRoute(app, contract.getPerson, async ({ params }) =>
    accounts.toPerson(orNotFound(await queries.readPerson(db, params.id), `person ${params.id}`)),
  );
  registerRoute(app, contract.invitePerson, ({ actor, body }) => accounts.invite(db, { actor, input: body }));
  registerRoute(app, contract.updatePerson, ({ actor, params, version, body }) =>
    accounts.change(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.issueLink, ({ actor, params }) =>
    links.issuePasswordLink(db, { actor, personId: params.id }),
  );
  registerRoute(app, contract.listSigners, async () => ({
    items: await queries.readWithPin(db, contract.permissions['steps.sign']),
  }));
  registerRoute(app, contract.listOverrideApprovers, async () => ({
    items: await queries.readWithPin(db, contract.permissions['lab.override']),
  }));
}
