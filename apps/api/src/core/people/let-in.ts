import type { Endpoint, Me, SecondFactorWanted } from '@huelot/contracts';
import type { RouteContext } from '../../http/route.ts';
import { giveDevice, giveStep, giveToken, readDevice, readToken } from '../../plugins/cookie.ts';
import { deviceLivesS, rememberDevice } from './known-device.ts';
import { siteOf, type PasskeySite } from './passkeys.ts';
import { enter, stepLivesS } from './sign-in-steps.ts';
import { absoluteS, endSignInOf, readMe, type From, type Opened } from './sign-in.ts';

type Request = RouteContext<Endpoint>['request'];
type Reply = RouteContext<Endpoint>['reply'];

export const from = (request: Request): From => ({
  address: request.ip,
  agent: request.headers['user-agent'] ?? '',
});
export const siteAt = ({ server, host }: Request): PasskeySite => siteOf(server.publicUrl, host);

/** The token of before dies with the new one, and the browser is known from now on. */
export async function welcome(request: Request, reply: Reply, { token, person }: Opened): Promise<Me> {
  const { db } = request.server;
  const earlier = readToken(request);
  if (earlier !== null) await endSignInOf(db, earlier);
  giveToken(reply, token, absoluteS);
  const device = await rememberDevice(db, { token: readDevice(request), personId: person.id });
  giveDevice(reply, device, deviceLivesS);
  return readMe(db, person.id);
}

/** Lets somebody in whose password was right, or asks for the second factor. */
export async function letIn(
  request: Request,
  reply: Reply,
  person: Opened['person'],
): Promise<Me | SecondFactorWanted> {
  const { db } = request.server;
  const entered = await enter(db, { person, site: siteAt(request), from: from(request) });
  if (!('step' in entered)) return welcome(request, reply, entered);
  giveStep(reply, entered.step, stepLivesS);
  return entered.wanted;
}
