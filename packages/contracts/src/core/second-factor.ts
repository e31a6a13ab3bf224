import { z } from 'zod';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import { AnyPassword, Me } from './people.ts';
import { Role } from '../kernel/permissions.ts';
import { Id, Instant, Line, PathId, Version } from '../kernel/scalars.ts';

/** What the browser's own WebAuthn functions are given, as the library writes it. */
const PasskeyOptions = z.record(z.string(), z.unknown());
/** What an authenticator answers; checked against its public key, so that only its shape is fixed here. */
const CredentialId = z.string().regex(/^[\w-]{1,2000}$/, 'must be base64url');
export const PasskeyResponse = z.looseObject({
  id: CredentialId,
  rawId: CredentialId,
  type: z.literal('public-key'),
  response: z.looseObject({
    transports: z
      .array(z.string().regex(/^[a-z-]{1,20}$/))
      .max(10)
      .optional(),
  }),
});
/** Six digits of an app, or a recovery code. */
const Code = z.string().trim().min(6).max(40);

export const signInWithCode = defineCommand({
  name: 'signInWithCode',
  tags: ['core'],
  path: '/sign-in/code',
  access: 'anyone',
  summary: 'Give the code of an app, or a recovery code, after the password',
  body: z.strictObject({ code: Code }),
  reply: Me,
  keyless: 'opens a sign-in',
  problems: ['wrong-credentials'],
});
export const beginPasskeySignIn = defineCommand({
  name: 'beginPasskeySignIn',
  tags: ['core'],
  path: '/sign-in/passkey-options',
  access: 'anyone',
  summary: 'Begin to sign in with a passkey alone',
  body: EmptyBody,
  reply: PasskeyOptions,
  keyless: 'opens a sign-in',
  problems: ['wrong-credentials'],
});
export const signInWithPasskey = defineCommand({
  name: 'signInWithPasskey',
  tags: ['core'],
  path: '/sign-in/passkey',
  access: 'anyone',
  summary: 'Sign in with a passkey, alone or after the password',
  body: z.strictObject({ response: PasskeyResponse }),
  reply: Me,
  keyless: 'opens a sign-in',
  problems: ['wrong-credentials'],
});

export const Passkey = z.object({
  id: Id,
  name: z.string(),
  createdAt: Instant,
  lastUsedAt: Instant.nullable(),
});
export const MySecondFactor = z
  .object({
    /** One of my roles needs one. */
    isRequired: z.boolean(),
    passkeys: z.array(Passkey),
    /** Where passkeys of this install work. */
    passkeyOrigin: z.string(),
    appSince: Instant.nullable(),
    recoveryCodesLeft: z.int(),
  })
  .meta({ id: 'MySecondFactor' });
export type MySecondFactor = z.output<typeof MySecondFactor>;
/** Codes are shown when they are made, and never again. */
const WithCodes = z.object({ recoveryCodes: z.array(z.string()).nullable() });

export const getMySecondFactor = defineQuery({
  name: 'getMySecondFactor',
  tags: ['core'],
  path: '/me/second-factor',
  access: 'signed-in',
  summary: 'My passkeys, my app and how many recovery codes are left',
  reply: MySecondFactor,
});
export const beginPasskey = defineCommand({
  name: 'beginPasskey',
  tags: ['core'],
  path: '/me/passkeys/options',
  access: 'signed-in',
  summary: 'Begin to add a passkey',
  body: EmptyBody,
  reply: PasskeyOptions,
  proof: 'account',
  keyless: 'takes a challenge',
});
export const addPasskey = defineCommand({
  name: 'addPasskey',
  tags: ['core'],
  path: '/me/passkeys',
  access: 'signed-in',
  summary: 'Add a passkey; recovery codes come with the first second factor',
  body: z.strictObject({ name: Line(60), response: PasskeyResponse }),
  reply: WithCodes,
  status: 201,
  proof: 'account',
  keyless: 'gives a secret',
});
export const renamePasskey = defineCommand({
  name: 'renamePasskey',
  tags: ['core'],
  method: 'PUT',
  path: '/me/passkeys/:id',
  access: 'signed-in',
  summary: 'Give a passkey of mine another name',
  params: { id: PathId },
  body: z.strictObject({ name: Line(60) }),
  reply: MySecondFactor,
});
export const removePasskey = defineCommand({
  name: 'removePasskey',
  tags: ['core'],
  method: 'DELETE',
  path: '/me/passkeys/:id',
  access: 'signed-in',
  summary: 'Remove a passkey of mine',
  params: { id: PathId },
  body: EmptyBody,
  reply: MySecondFactor,
  proof: 'account',
});
export const beginApp = defineCommand({
  name: 'beginApp',
  tags: ['core'],
  path: '/me/authenticator-app',
  access: 'signed-in',
  summary: 'Begin to add an app that shows codes',
  body: EmptyBody,
  reply: z.object({ secret: z.string(), uri: z.string(), qrSvg: z.string() }),
  proof: 'account',
  keyless: 'gives a secret',
});
export const confirmApp = defineCommand({
  name: 'confirmApp',
  tags: ['core'],
  method: 'PUT',
  path: '/me/authenticator-app',
  access: 'signed-in',
  summary: 'Prove with a code that the app works; recovery codes come with the first second factor',
  body: z.strictObject({ code: Code }),
  reply: WithCodes,
  proof: 'account',
  keyless: 'gives a secret',
});
export const removeApp = defineCommand({
  name: 'removeApp',
  tags: ['core'],
  method: 'DELETE',
  path: '/me/authenticator-app',
  access: 'signed-in',
  summary: 'Remove my app',
  body: EmptyBody,
  reply: MySecondFactor,
  proof: 'account',
  problems: ['not-found'],
});
export const renewRecoveryCodes = defineCommand({
  name: 'renewRecoveryCodes',
  tags: ['core'],
  path: '/me/recovery-codes',
  access: 'signed-in',
  summary: 'Fresh recovery codes; earlier ones die',
  body: EmptyBody,
  reply: z.object({ recoveryCodes: z.array(z.string()) }),
  proof: 'account',
  keyless: 'gives a secret',
});
export const beginPasskeyProof = defineCommand({
  name: 'beginPasskeyProof',
  tags: ['core'],
  path: '/me/proof/passkey-options',
  access: 'signed-in',
  summary: 'Begin to prove with a passkey that it is me',
  body: EmptyBody,
  reply: PasskeyOptions,
  keyless: 'takes a challenge',
});

/** What somebody signs with, beside being signed in. */
export const Proof = z.enum(['password', 'pin', 'passkey']);
export type Proof = z.output<typeof Proof>;
export const proveAgain = defineCommand({
  name: 'proveAgain',
  tags: ['core'],
  path: '/me/proof',
  access: 'signed-in',
  summary:
    'Give my password, PIN or passkey again; signatures and changes of the next five minutes rest on it',
  body: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('password'), secret: AnyPassword }),
    z.strictObject({ kind: z.literal('pin'), secret: z.string().min(1).max(20) }),
    z.strictObject({ kind: z.literal('passkey'), response: PasskeyResponse }),
  ]),
  reply: EmptyReply,
  keyless: 'takes a secret',
});

/** Which roles sign in with a second factor. */
export const SignInRules = z.object({ secondFactorRoles: z.array(Role), version: Version });
export type SignInRules = z.output<typeof SignInRules>;
export const getSignInRules = defineQuery({
  name: 'getSignInRules',
  tags: ['core'],
  path: '/sign-in-rules',
  access: 'people.read',
  summary: 'Which roles need a second factor',
  reply: SignInRules,
});
export const updateSignInRules = defineCommand({
  name: 'updateSignInRules',
  tags: ['core'],
  method: 'PUT',
  path: '/sign-in-rules',
  access: 'people.write',
  summary: 'Choose which roles need a second factor; whoever has none is led to add one',
  body: z.strictObject({ secondFactorRoles: z.array(Role).max(6) }),
  reply: SignInRules,
  versioned: true,
  proof: 'account',
});
