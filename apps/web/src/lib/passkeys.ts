import type { PasskeyResponse } from '@huelot/contracts';
import type {
  PublicKeyCredentialCreationOptionsJSON,
  PublicKeyCredentialRequestOptionsJSON,
} from '@simplewebauthn/browser';
import type { z } from 'zod';
import { ApiProblem } from './problem.ts';

type Options = Record<string, unknown>;
type Response = z.input<typeof PasskeyResponse>;

/** Browsers keep passkeys for protected addresses alone, and for this machine itself. */
export const canUsePasskeys = (): boolean => window.isSecureContext && 'PublicKeyCredential' in window;

/**
 * Why no passkey can be used at the address of this page, or null.
 *
 * @example
 * whyNoPasskeys('https://huelot.example.org')
 */
export function whyNoPasskeys(passkeyOrigin: string): string | null {
  const { hostname } = new URL(passkeyOrigin);
  if (!window.isSecureContext) {
    return 'This address is plain http, where browsers offer no passkeys: they need https, or localhost on the machine itself. An authenticator app works everywhere.';
  }
  if (!('PublicKeyCredential' in window))
    return 'This browser does not support passkeys. An authenticator app works everywhere.';
  if (hostname !== location.hostname)
    return `Passkeys of this install belong to ${passkeyOrigin}: open the page there. An authenticator app works everywhere.`;
  return null;
}

/** Asks the device for a passkey it has. */
export const askForPasskey = (options: Options): Promise<Response> =>
  said(async () => {
    const { startAuthentication } = await import('@simplewebauthn/browser');
    const optionsJSON = options as unknown as PublicKeyCredentialRequestOptionsJSON;
    return (await startAuthentication({ optionsJSON })) as unknown as Response;
  });

/** Asks the device to make a passkey. */
export const makePasskey = (options: Options): Promise<Response> =>
  said(async () => {
    const { startRegistration } = await import('@simplewebauthn/browser');
    const optionsJSON = options as unknown as PublicKeyCredentialCreationOptionsJSON;
    return (await startRegistration({ optionsJSON })) as unknown as Response;
  });

/** A browser's own words are for programmers. */
async function said(work: () => Promise<Response>): Promise<Response> {
  try {
    return await work();
  } catch (cause) {
    const isThere = (cause as Error).name === 'InvalidStateError';
    const detail = isThere
      ? 'This device has a passkey for your account already.'
      : 'No passkey was used: the device found none, or it was cancelled.';
    throw new ApiProblem({ code: 'wrong-credentials', detail, cause });
  }
}
