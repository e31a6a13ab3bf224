import {
  generateAuthenticationOptions,
  generateRegistrationOptions,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
  type AuthenticationResponseJSON,
  type RegistrationResponseJSON,
} from '@simplewebauthn/server';
import type { Queryable } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import * as queries from './second-factor-queries.ts';

/** The host that passkeys belong to, and the addresses a browser may use them from. */
export interface PasskeySite {
  host: string;
  origins: string[];
}

/**
 * The address people type names the host. While that is this machine alone, its port may be any.
 *
 * @example
 * siteOf('https://huelot.example.org', 'huelot.example.org') // { host: 'huelot.example.org', origins: [...] }
 */
export function siteOf(publicUrl: string, requestHost: string): PasskeySite {
  const { hostname, origin } = new URL(publicUrl);
  const here = `http://${requestHost}`;
  const isHere = hostname === 'localhost' && URL.canParse(here) && new URL(here).hostname === 'localhost';
  return { host: hostname, origins: isHere ? [origin, here] : [origin] };
}

const wrong = () => new DomainError('wrong-credentials', 'That passkey was not accepted.');

/** What the browser needs to make a passkey that can also stand alone. */
export const registrationOptions = async (
  db: Queryable,
  {
    site,
    person,
    shopName,
  }: { site: PasskeySite; person: { id: number; name: string; displayName: string }; shopName: string },
) =>
  generateRegistrationOptions({
    rpName: shopName || 'Huelot',
    rpID: site.host,
    userID: new TextEncoder().encode(`huelot person ${person.id}`),
    userName: person.name,
    userDisplayName: person.displayName,
    excludeCredentials: (await queries.readPasskeys(db, person.id)).map(({ credentialId, transports }) => ({
      id: credentialId,
      transports,
    })),
    authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
  });

/** The new passkey behind the browser's answer. */
export async function readRegistration(options: { site: PasskeySite; challenge: string; response: unknown }) {
  const { site, challenge } = options;
  const verified = await verifyRegistrationResponse({
    response: options.response as RegistrationResponseJSON,
    expectedChallenge: challenge,
    expectedOrigin: site.origins,
    expectedRPID: site.host,
  }).catch(() => null);
  if (!verified?.verified) throw wrong();
  const { id, publicKey, counter, transports = [] } = verified.registrationInfo.credential;
  return { credentialId: id, publicKey, counter, transports };
}

/** What the browser needs to use a passkey: one of a person's, or any of this site. */
export const authenticationOptions = async (
  db: Queryable,
  { site, personId }: { site: PasskeySite; personId: number | null },
) =>
  generateAuthenticationOptions({
    rpID: site.host,
    userVerification: 'required',
    allowCredentials:
      personId === null
        ? []
        : (await queries.readPasskeys(db, personId)).map(({ credentialId, transports }) => ({
            id: credentialId,
            transports,
          })),
  });

/** The passkey that signed the challenge. It proves device and person at once: the device asks for finger, face or PIN. */
export async function checkPasskey(
  db: Queryable,
  options: { site: PasskeySite; challenge: string; response: { id: string } },
): Promise<queries.PasskeyRow> {
  const { site, challenge, response } = options;
  const passkey = await queries.readPasskey(db, response.id);
  if (passkey === null) throw wrong();
  const verified = await verifyAuthenticationResponse({
    response: response as AuthenticationResponseJSON,
    expectedChallenge: challenge,
    expectedOrigin: site.origins,
    expectedRPID: site.host,
    credential: {
      id: passkey.credentialId,
      publicKey: passkey.publicKey,
      counter: Number(passkey.counter),
      transports: passkey.transports,
    },
  }).catch(() => null);
  if (!verified?.verified) throw wrong();
  await queries.usePasskey(db, passkey.id, verified.authenticationInfo.newCounter);
  return passkey;
}
