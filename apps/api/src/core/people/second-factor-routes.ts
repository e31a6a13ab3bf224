import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import QRCode from 'qrcode';
import type { Actor } from '../../kernel/actor.ts';
import { registerRoute, registerPublicRoute } from '../../http/route.ts';
import { giveStep, readStep } from '../../plugins/cookie.ts';
import { from, siteAt, welcome } from './let-in.ts';
import { authenticationOptions, registrationOptions } from './passkeys.ts';
import { proveAgain } from './prove.ts';
import { readShop } from './queries.ts';
import * as mine from './second-factor.ts';
import * as steps from './sign-in-steps.ts';

export default function secondFactor(app: FastifyInstance): void {
  const { db, secrets } = app;
  const stateOf = (actor: Actor) => mine.readMine(db, { actor, origin: new URL(app.publicUrl).origin });

  registerPublicRoute(app, contract.signInWithCode, async ({ body, request, reply }) =>
    welcome(
      request,
      reply,
      await steps.signInWithCode(db, { ...body, step: readStep(request), from: from(request), secrets }),
    ),
  );
  registerPublicRoute(app, contract.beginPasskeySignIn, async ({ request, reply }) => {
    const begun = await steps.beginPasskeySignIn(db, { site: siteAt(request), from: from(request) });
    giveStep(reply, begun.step, steps.stepLivesS);
    return { ...begun.options };
  });
  registerPublicRoute(app, contract.signInWithPasskey, async ({ body, request, reply }) => {
    const { response } = body;
    const asked = { step: readStep(request), response, site: siteAt(request), from: from(request) };
    return welcome(request, reply, await steps.signInWithPasskey(db, asked));
  });

  registerRoute(app, contract.getMySecondFactor, ({ actor }) => stateOf(actor));
  registerRoute(app, contract.beginPasskey, async ({ actor, request }) => {
    const { name: shopName } = await readShop(db);
    const person = { ...actor, id: actor.personId };
    const options = await registrationOptions(db, { site: siteAt(request), person, shopName });
    await keepChallenge(actor, 'add', options.challenge);
    return { ...options };
  });
  registerRoute(app, contract.addPasskey, ({ actor, body, request }) =>
    mine.addPasskey(db, { actor, site: siteAt(request), ...body }),
  );
  registerRoute(app, contract.renamePasskey, async ({ actor, params, body }) => {
    await mine.renamePasskey(db, { actor, id: params.id, name: body.name });
    return stateOf(actor);
  });
  registerRoute(app, contract.removePasskey, async ({ actor, params }) => {
    await mine.removePasskey(db, { actor, id: params.id });
    return stateOf(actor);
  });
  registerRoute(app, contract.beginApp, async ({ actor }) => {
    const offered = await mine.beginApp(db, { actor, secrets });
    return { ...offered, qrSvg: await QRCode.toString(offered.uri, { type: 'svg', margin: 1 }) };
  });
  registerRoute(app, contract.confirmApp, ({ actor, body }) =>
    mine.confirmApp(db, { actor, code: body.code, secrets }),
  );
  registerRoute(app, contract.removeApp, async ({ actor }) => {
    await mine.removeApp(db, { actor });
    return stateOf(actor);
  });
  registerRoute(app, contract.renewRecoveryCodes, ({ actor }) => mine.renewCodes(db, { actor }));

  registerRoute(app, contract.beginPasskeyProof, async ({ actor, request }) => {
    const options = await authenticationOptions(db, { site: siteAt(request), personId: actor.personId });
    await keepChallenge(actor, 'prove', options.challenge);
    return { ...options };
  });
  registerRoute(app, contract.proveAgain, async ({ actor, body, request }) => {
    if (body.kind === 'passkey')
      await mine.proveWithPasskey(db, { actor, site: siteAt(request), response: body.response });
    else await proveAgain(db, { actor, ...body });
    return {};
  });

  registerRoute(app, contract.getSignInRules, () => mine.readRules(db));
  registerRoute(app, contract.updateSignInRules, ({ actor, version, body }) =>
    mine.changeRules(db, { actor, version, input: body }),
  );

  const keepChallenge = (actor: Actor, what: 'add' | 'prove', challenge: string) =>
    steps.beginNamedStep(db, mine.stepOf(actor, what), { personId: actor.personId, challenge });
}
