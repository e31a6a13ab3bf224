import { z } from 'zod';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import { Role } from '../kernel/permissions.ts';
import { Id, Instant, Line, PathId, SystemOfUnits, Version } from '../kernel/scalars.ts';

export const Theme = z.enum(['system', 'light', 'dark']);
/** How close together the rows of lists stand on a desk. */
export const Density = z.enum(['roomy', 'dense']);

/** What somebody signs in with: letters, digits, dot, dash and underscore. */
export const SignInName = z
  .string()
  .trim()
  .normalize('NFKC')
  .regex(/^[\p{L}\p{N}._-]{2,60}$/u, 'must be 2 to 60 letters, digits, dots, dashes or underscores');

/** At least 8 characters of any kind, 15 or more advised; no rule about which. The server refuses common ones. */
export const Password = z
  .string()
  .min(8, 'must have at least 8 characters')
  .max(200)
  .refine((value) => new Set(value).size > 4, 'must not be a few characters over and over');
export const AnyPassword = z.string().min(1).max(200);
export const Pin = z.string().regex(/^\d{4,8}$/, 'must be 4 to 8 digits');

export const ShopFacts = z.object({
  name: z.string(),
  timeZone: z.string(),
  currency: z.string(),
});

export const Me = z
  .object({
    person: z.object({
      id: Id,
      name: z.string(),
      displayName: z.string(),
      roles: z.array(Role),
      units: SystemOfUnits,
      theme: Theme,
      density: Density,
      hasPin: z.boolean(),
    }),
    shop: ShopFacts,
    /** A role of theirs needs a second factor and there is none yet: nothing else is answered before. */
    lacksSecondFactor: z.boolean(),
  })
  .meta({ id: 'Me' });
export type Me = z.output<typeof Me>;

/** Somebody whose password was right and whose second factor is still wanted. */
export const SecondFactorWanted = z.object({
  secondFactor: z.object({ passkey: z.record(z.string(), z.unknown()).nullable(), app: z.boolean() }),
});
export type SecondFactorWanted = z.output<typeof SecondFactorWanted>;

/** Signed in, or one step before it. */
const Entry = z.union([Me, SecondFactorWanted]);

/** A cookie beside the sign-in, which scripts cannot read: while it is there, asking as who is signed in makes sense. */
export const signedInCookie = 'huelot-signed-in';

export const getMe = defineQuery({
  name: 'getMe',
  tags: ['core'],
  path: '/me',
  access: 'signed-in',
  summary: 'Who is signed in, and the shop',
  reply: Me,
});

export const signIn = defineCommand({
  name: 'signIn',
  tags: ['core'],
  path: '/sign-in',
  access: 'anyone',
  summary: 'Sign in with name and password',
  body: z.strictObject({ name: z.string().trim().min(1).max(60), password: AnyPassword }),
  reply: Entry,
  keyless: 'opens a sign-in',
  problems: ['wrong-credentials'],
});
export const signOut = defineCommand({
  name: 'signOut',
  tags: ['core'],
  path: '/sign-out',
  access: 'signed-in',
  summary: 'End this sign-in',
  body: EmptyBody,
  reply: EmptyReply,
  keyless: 'ends a sign-in',
});
export const signOutEverywhere = defineCommand({
  name: 'signOutEverywhere',
  tags: ['core'],
  path: '/sign-out-everywhere',
  access: 'signed-in',
  summary: 'End every sign-in of mine, this one included',
  body: EmptyBody,
  reply: EmptyReply,
  keyless: 'ends a sign-in',
});

export const setPreferences = defineCommand({
  name: 'setPreferences',
  tags: ['core'],
  method: 'PUT',
  path: '/me/preferences',
  access: 'signed-in',
  summary: 'Units, theme and density of my screens',
  body: z.strictObject({ units: SystemOfUnits, theme: Theme, density: Density.optional() }),
  reply: Me,
});
export const changePassword = defineCommand({
  name: 'changePassword',
  tags: ['core'],
  method: 'PUT',
  path: '/me/password',
  access: 'signed-in',
  summary: 'Change my password; my other sign-ins end',
  body: z.strictObject({ current: AnyPassword, password: Password }),
  reply: EmptyReply,
  keyless: 'takes a secret',
});
export const setPin = defineCommand({
  name: 'setPin',
  tags: ['core'],
  method: 'PUT',
  path: '/me/pin',
  access: 'signed-in',
  summary: 'Set the PIN I sign steps with on a shared tablet',
  body: z.strictObject({ password: AnyPassword, pin: Pin }),
  reply: EmptyReply,
  keyless: 'takes a secret',
});

export const MySignIn = z.object({
  id: Id,
  createdAt: Instant,
  lastSeenAt: Instant,
  address: z.string(),
  agent: z.string(),
  current: z.boolean(),
});
export const listMySignIns = defineQuery({
  name: 'listMySignIns',
  tags: ['core'],
  path: '/me/sign-ins',
  access: 'signed-in',
  summary: 'Where I am signed in',
  reply: z.object({ items: z.array(MySignIn) }),
});
export const endMySignIn = defineCommand({
  name: 'endMySignIn',
  tags: ['core'],
  method: 'DELETE',
  path: '/me/sign-ins/:id',
  access: 'signed-in',
  summary: 'End one of my sign-ins',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
});

export const getSetUpState = defineQuery({
  name: 'getSetUpState',
  tags: ['core'],
  path: '/set-up',
  access: 'anyone',
  summary: 'Whether this install has an owner yet',
  reply: z.object({ setUp: z.boolean() }),
});

export const TimeZone = z.string().refine(isTimeZone, 'must be a time zone like Europe/Vienna');
function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

export const Person = z
  .object({
    id: Id,
    name: z.string(),
    displayName: z.string(),
    email: z.string().nullable(),
    roles: z.array(Role),
    active: z.boolean(),
    /** Has chosen a password, so the invitation was taken up. */
    joined: z.boolean(),
    hasPin: z.boolean(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Person' });
export type Person = z.output<typeof Person>;

const Roles = z.array(Role).min(1, 'needs at least one role').max(6);
const Email = z.union([z.email().max(200), z.literal('')]);
const OneTimeLink = z.object({ url: z.string(), expiresAt: Instant });

export const listPeople = defineQuery({
  name: 'listPeople',
  tags: ['core'],
  path: '/people',
  access: 'people.read',
  summary: 'Everybody with an account',
  reply: z.object({ items: z.array(Person) }),
});
export const getPerson = defineQuery({
  name: 'getPerson',
  tags: ['core'],
  path: '/people/:id',
  access: 'people.read',
  summary: 'One person',
  params: { id: PathId },
  reply: Person,
});
export const invitePerson = defineCommand({
  name: 'invitePerson',
  tags: ['core'],
  path: '/people',
  access: 'people.write',
  summary: 'Add a person and make an invitation link that works once',
  body: z.strictObject({ name: SignInName, displayName: Line(100), email: Email, roles: Roles }),
  reply: z.object({ person: Person, link: OneTimeLink }),
  status: 201,
  keyless: 'gives a secret',
});
export const updatePerson = defineCommand({
  name: 'updatePerson',
  tags: ['core'],
  method: 'PUT',
  path: '/people/:id',
  access: 'people.write',
  summary: 'Change roles, name or whether the account is in use',
  params: { id: PathId },
  body: z.strictObject({ displayName: Line(100), email: Email, roles: Roles, active: z.boolean() }),
  reply: Person,
  versioned: true,
});
export const issueLink = defineCommand({
  name: 'issueLink',
  tags: ['core'],
  path: '/people/:id/link',
  access: 'people.write',
  summary: 'A fresh one-time link to choose a password',
  params: { id: PathId },
  body: EmptyBody,
  reply: OneTimeLink,
  status: 201,
  keyless: 'gives a secret',
});

const LinkToken = z.string().regex(/^[\w-]{20,100}$/);
export const getInvitation = defineQuery({
  name: 'getInvitation',
  tags: ['core'],
  path: '/invitations/:token',
  access: 'anyone',
  summary: 'Whose one-time link this is',
  params: { token: LinkToken },
  reply: z.object({ name: z.string(), displayName: z.string(), shopName: z.string() }),
});
export const acceptInvitation = defineCommand({
  name: 'acceptInvitation',
  tags: ['core'],
  path: '/invitations/:token',
  access: 'anyone',
  summary: 'Choose a password with a one-time link',
  params: { token: LinkToken },
  body: z.strictObject({ password: Password }),
  reply: Entry,
  keyless: 'opens a sign-in',
  problems: ['wrong-credentials'],
});

/** Somebody who proves on a shared tablet with a PIN who they are. */
export const Signer = z.object({ id: Id, displayName: z.string() });
export const listSigners = defineQuery({
  name: 'listSigners',
  tags: ['core'],
  path: '/signers',
  access: 'steps.sign',
  summary: 'People who can sign a step with their PIN',
  reply: z.object({ items: z.array(Signer) }),
});
/** A step in a bath that is on hold, stopped or overdue runs only by the word of one of them. */
export const listOverrideApprovers = defineQuery({
  name: 'listOverrideApprovers',
  tags: ['core'],
  path: '/override-approvers',
  access: 'steps.sign',
  summary: 'People who can let a step run in such a bath with their PIN',
  reply: z.object({ items: z.array(Signer) }),
});
