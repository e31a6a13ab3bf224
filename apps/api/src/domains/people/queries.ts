import type { Role } from '@huelot/contracts';
import { sql, type Queryable, type Run } from '../../db/client.ts';
import type { Actor } from '../../actor.ts';

export const readPerson = (db: Queryable, id: number) => db.prisma.person.findUnique({ where: { id } });
/** Holds the row of a person until the transaction ends. */
export const lockPerson = (run: Run, id: number) =>
  run(sql`select "id" from "person" where "id" = ${id} for update`);
export const readPersonByName = (db: Queryable, name: string) =>
  db.prisma.person.findFirst({ where: { name: { equals: name, mode: 'insensitive' } } });
export const readPeople = (db: Queryable) =>
  db.prisma.person.findMany({ orderBy: [{ active: 'desc' }, { displayName: 'asc' }] });
export const readShop = (db: Queryable) => db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } });
export const anybody = async (db: Queryable) => (await db.prisma.person.count()) > 0;

export const addPerson = (
  db: Queryable,
  of: { name: string; displayName: string; email: string | null; roles: Role[]; passwordHash: string | null },
) =>
  db.prisma.person.create({
    data: { ...of, passwordChangedAt: of.passwordHash === null ? null : new Date() },
  });

export const changePerson = (
  db: Queryable,
  id: number,
  data: Partial<{
    displayName: string;
    email: string | null;
    roles: Role[];
    active: boolean;
    units: string;
    theme: string;
    passwordHash: string;
    passwordChangedAt: Date;
    pinHash: string;
  }>,
) => db.prisma.person.update({ where: { id }, data: { ...data, version: { increment: 1 } } });

export const nameShop = (db: Queryable, data: { name: string; timeZone: string; currency: string }) =>
  db.prisma.shop.update({ where: { id: 1 }, data });

/** Ends sign-ins of a person, all but one when `except` names it. */
export const endSignIns = (db: Queryable, of: { personId: number; except?: number; only?: number }) =>
  db.prisma.signIn.updateMany({
    where: {
      personId: of.personId,
      endedAt: null,
      ...(of.except === undefined ? {} : { id: { not: of.except } }),
      ...(of.only === undefined ? {} : { id: of.only }),
    },
    data: { endedAt: new Date() },
  });

export const addSignIn = (
  db: Queryable,
  of: { personId: number; tokenHash: Uint8Array<ArrayBuffer>; address: string; agent: string },
) => db.prisma.signIn.create({ data: of });

export const openSignIns = (db: Queryable, personId: number) =>
  db.prisma.signIn.findMany({
    where: { personId, endedAt: null },
    orderBy: { lastSeenAt: 'desc' },
    take: 100,
  });

/** The person behind a live token. One statement, since every request asks it. */
export async function findActor(
  run: Run,
  of: { tokenHash: Buffer; idleS: number; absoluteS: number },
): Promise<(Omit<Actor, 'address'> & { stale: boolean }) | null> {
  const [row] = await run<Omit<Actor, 'address'> & { stale: boolean }>(sql`
    select p."id" as "personId", p."name", p."displayName", p."roles", p."units", s."id" as "signInId",
           s."lastSeenAt" < now() - interval '1 minute' as "stale"
      from "sign_in" s join "person" p on p."id" = s."personId"
     where s."tokenHash" = ${of.tokenHash} and s."endedAt" is null and p."active"
       and s."lastSeenAt" > now() - make_interval(secs => ${of.idleS})
       and s."createdAt" > now() - make_interval(secs => ${of.absoluteS})`);
  return row ?? null;
}
export const touchSignIn = (run: Run, id: number) =>
  run(sql`update "sign_in" set "lastSeenAt" = now() where "id" = ${id}`);

/** Failures within the window, by account and by address. */
export async function countFailures(run: Run, of: { name: string; address: string; windowS: number }) {
  const [row] = await run<{ account: number; address: number }>(sql`
    select (count(*) filter (where "name" = ${of.name}))::int as "account",
           (count(*) filter (where "address" = ${of.address}))::int as "address"
      from "sign_in_failure"
     where ("name" = ${of.name} or "address" = ${of.address})
       and "at" > now() - make_interval(secs => ${of.windowS})`);
  return row ?? { account: 0, address: 0 };
}
export const addFailure = (db: Queryable, name: string, address: string) =>
  db.prisma.signInFailure.create({ data: { name, address } });
export const clearFailures = (db: Queryable, name: string) =>
  db.prisma.signInFailure.deleteMany({ where: { name } });

export const addLink = (
  db: Queryable,
  of: {
    kind: 'first-admin' | 'password';
    tokenHash: Uint8Array<ArrayBuffer>;
    personId: number | null;
    createdById: number | null;
    expiresAt: Date;
  },
) => db.prisma.oneTimeLink.create({ data: of });
export const killLinks = (db: Queryable, of: { kind: string; personId: number | null }) =>
  db.prisma.oneTimeLink.updateMany({ where: { ...of, usedAt: null }, data: { usedAt: new Date() } });
export const readLink = (db: Queryable, tokenHash: Uint8Array<ArrayBuffer>) =>
  db.prisma.oneTimeLink.findFirst({
    where: { tokenHash, usedAt: null, expiresAt: { gt: new Date() } },
    include: { person: true },
  });
/** Uses a link up; false when somebody else just did. */
export const useLink = async (db: Queryable, id: number) =>
  (await db.prisma.oneTimeLink.updateMany({ where: { id, usedAt: null }, data: { usedAt: new Date() } }))
    .count === 1;

/** People of these roles who set a PIN. */
export const readWithPin = (db: Queryable, roles: readonly Role[]) =>
  db.prisma.person.findMany({
    where: {
      active: true,
      pinHash: { not: null },
      roles: { hasSome: [...roles] },
    },
    select: { id: true, displayName: true },
    orderBy: { displayName: 'asc' },
  });
