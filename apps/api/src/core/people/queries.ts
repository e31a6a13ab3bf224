import { proofLivesS, type Proof, type Role } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';

export const readPerson = (db: Queryable, id: number) => db.prisma.person.findUnique({ where: { id } });
/** Holds the row of a person and of every owner until the transaction ends, so that two owners cannot unmake each other. */
export const lockPersonAndOwners = (execute: SqlExecutor, id: number) =>
  execute(sql`
    select "id" from "person" where "id" = ${id} or ("active" and 'owner' = any("roles")) order by "id" for update`);
/** Whether an owner is left who took up the invitation, and so can sign in. */
export async function hasOwner(execute: SqlExecutor): Promise<boolean> {
  const [row] = await execute<{ hasOwner: boolean }>(sql`
    select exists (select 1 from "person"
                    where "active" and 'owner' = any("roles") and "passwordHash" is not null) as "hasOwner"`);
  return row?.hasOwner ?? false;
}
/** Upper and lower case are one; every other character stands for itself. The unique index of names says the same. */
export async function readPersonByName(db: Queryable, name: string) {
  const [row] = await db.execute<{ id: number }>(
    sql`select "id" from "person" where lower("name") = lower(${name.normalize('NFKC')})`,
  );
  return row === undefined ? null : readPerson(db, row.id);
}
export const readPeople = (db: Queryable) =>
  db.prisma.person.findMany({ orderBy: [{ active: 'desc' }, { displayName: 'asc' }] });
export const readShop = (db: Queryable) => db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } });
export const hasUsers = async (db: Queryable) => (await db.prisma.person.count()) > 0;

export const addPerson = (
  db: Queryable,
  options: {
    name: string;
    displayName: string;
    email: string | null;
    roles: Role[];
    passwordHash: string | null;
  },
) =>
  db.prisma.person.create({
    data: { ...options, passwordChangedAt: options.passwordHash === null ? null : new Date() },
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
    density: string;
    passwordHash: string;
    passwordChangedAt: Date;
    pinHash: string;
  }>,
) => db.prisma.person.update({ where: { id }, data: { ...data, version: { increment: 1 } } });

export const nameShop = (db: Queryable, data: { name: string; timeZone: string; currency: string }) =>
  db.prisma.shop.update({ where: { id: 1 }, data });

/** Ends sign-ins of a person, all but one when `except` names it. */
export const endSignIns = (
  db: Queryable,
  { personId, except, only }: { personId: number; except?: number; only?: number },
) =>
  db.prisma.signIn.updateMany({
    where: {
      personId,
      endedAt: null,
      ...(except === undefined ? {} : { id: { not: except } }),
      ...(only === undefined ? {} : { id: only }),
    },
    data: { endedAt: new Date() },
  });

export const addSignIn = (
  db: Queryable,
  options: { personId: number; tokenHash: Uint8Array<ArrayBuffer>; address: string; agent: string },
) => db.prisma.signIn.create({ data: options });

export const openSignIns = (db: Queryable, personId: number) =>
  db.prisma.signIn.findMany({
    where: { personId, endedAt: null },
    orderBy: { lastSeenAt: 'desc' },
    take: 100,
  });

/** Of a person `p`: a role needs a second factor, and there is none. */
const isLackingSecondFactor = sql`
  (p."roles" && (select "secondFactorRoles" from "shop" where "id" = 1)
    and not exists (select 1 from "passkey" k where k."personId" = p."id")
    and not exists (select 1 from "authenticator_app" a where a."personId" = p."id" and a."confirmedAt" is not null))`;
export async function lacksSecondFactor(execute: SqlExecutor, personId: number): Promise<boolean> {
  const [row] = await execute<{ lacks: boolean }>(
    sql`select ${isLackingSecondFactor} as "lacks" from "person" p where p."id" = ${personId}`,
  );
  return row?.lacks ?? false;
}

/** The person behind a live token. One statement, since every request asks it. */
export async function findActor(
  execute: SqlExecutor,
  { tokenHash, idleS, absoluteS }: { tokenHash: Buffer; idleS: number; absoluteS: number },
): Promise<(Omit<Actor, 'address'> & { stale: boolean }) | null> {
  const [row] = await execute<Omit<Actor, 'address'> & { stale: boolean }>(sql`
    select p."id" as "personId", p."name", p."displayName", p."roles", p."units", s."id" as "signInId",
           case when s."provedAt" > now() - make_interval(secs => ${proofLivesS}) then s."provedWith" end as "provedWith",
           ${isLackingSecondFactor} as "lacksSecondFactor",
           s."lastSeenAt" < now() - interval '1 minute' as "stale"
      from "sign_in" s join "person" p on p."id" = s."personId"
     where s."tokenHash" = ${tokenHash} and s."endedAt" is null and p."active"
       and s."lastSeenAt" > now() - make_interval(secs => ${idleS})
       and s."createdAt" > now() - make_interval(secs => ${absoluteS})`);
  return row ?? null;
}
export const endSignInOfToken = (db: Queryable, tokenHash: Uint8Array<ArrayBuffer>) =>
  db.prisma.signIn.updateMany({ where: { tokenHash, endedAt: null }, data: { endedAt: new Date() } });
/** Replaces a hash by one with today's parameters, unless the secret itself was changed meanwhile. */
export const rehash = (
  db: Queryable,
  id: number,
  { column, stored, fresh }: { column: 'passwordHash' | 'pinHash'; stored: string; fresh: string },
) => db.prisma.person.updateMany({ where: { id, [column]: stored }, data: { [column]: fresh } });
export const markProved = (db: Queryable, id: number, provedWith: Proof) =>
  db.prisma.signIn.update({ where: { id }, data: { provedAt: new Date(), provedWith } });
export const touchSignIn = (execute: SqlExecutor, id: number) =>
  execute(sql`update "sign_in" set "lastSeenAt" = now() where "id" = ${id}`);

export const readDevice = (db: Queryable, key: { tokenHash: Uint8Array<ArrayBuffer>; personId: number }) =>
  db.prisma.knownDevice.findUnique({ where: { tokenHash_personId: key } });
export const isDeviceOfAnybody = async (db: Queryable, tokenHash: Uint8Array<ArrayBuffer>) =>
  (await db.prisma.knownDevice.count({ where: { tokenHash } })) > 0;
export const saveDevice = (db: Queryable, key: { tokenHash: Uint8Array<ArrayBuffer>; personId: number }) =>
  db.prisma.knownDevice.upsert({
    where: { tokenHash_personId: key },
    create: key,
    update: { lastUsedAt: new Date() },
  });
export const dropOldDevices = (
  execute: SqlExecutor,
  { personId, keep }: { personId: number; keep: number },
) =>
  execute(sql`
    delete from "known_device" where "personId" = ${personId} and "tokenHash" not in (
      select "tokenHash" from "known_device" where "personId" = ${personId} order by "lastUsedAt" desc limit ${keep})`);
export const forgetDevices = (db: Queryable, personId: number) =>
  db.prisma.knownDevice.deleteMany({ where: { personId } });

export const addLink = (
  db: Queryable,
  options: {
    kind: 'first-admin' | 'password' | 'recovery';
    tokenHash: Uint8Array<ArrayBuffer>;
    personId: number | null;
    createdById: number | null;
    expiresAt: Date;
  },
) => db.prisma.oneTimeLink.create({ data: options });
export const revokeLinks = (db: Queryable, options: { kind?: string; personId: number | null }) =>
  db.prisma.oneTimeLink.updateMany({ where: { ...options, usedAt: null }, data: { usedAt: new Date() } });
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
