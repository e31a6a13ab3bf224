import type { Role } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

type Bytes = Uint8Array<ArrayBuffer>;

export const readPasskeys = (db: Queryable, personId: number) =>
  db.prisma.passkey.findMany({ where: { personId }, orderBy: { id: 'asc' } });
export const readPasskey = (db: Queryable, credentialId: string) =>
  db.prisma.passkey.findUnique({ where: { credentialId }, include: { person: true } });
export type PasskeyRow = NonNullable<Awaited<ReturnType<typeof readPasskey>>>;
export const addPasskey = (
  db: Queryable,
  data: {
    personId: number;
    credentialId: string;
    publicKey: Bytes;
    counter: number;
    transports: string[];
    name: string;
  },
) => db.prisma.passkey.create({ data });
export const usePasskey = (db: Queryable, id: number, counter: number) =>
  db.prisma.passkey.update({ where: { id }, data: { counter, lastUsedAt: new Date() } });
export const renamePasskey = async (db: Queryable, key: { id: number; personId: number }, name: string) =>
  (await db.prisma.passkey.updateMany({ where: key, data: { name } })).count;
export const dropPasskey = async (db: Queryable, key: { id: number; personId: number }) =>
  (await db.prisma.passkey.deleteMany({ where: key })).count;

export const readApp = (db: Queryable, personId: number) =>
  db.prisma.authenticatorApp.findUnique({ where: { personId } });
/** A secret that waits to be confirmed; one that was confirmed stays until it is removed. */
export const offerApp = (execute: SqlExecutor, { personId, secret }: { personId: number; secret: string }) =>
  execute<{ personId: number }>(sql`
    insert into "authenticator_app" as a ("personId", "secret") values (${personId}, ${secret})
    on conflict ("personId") do update set "secret" = excluded."secret", "createdAt" = now(), "lastStep" = null
     where a."confirmedAt" is null
    returning "personId"`);
export const confirmApp = (db: Queryable, personId: number) =>
  db.prisma.authenticatorApp.update({ where: { personId }, data: { confirmedAt: new Date() } });
/** Uses the code of one half minute up; false when it, or a later one, was used before. */
export const useStep = async (db: Queryable, personId: number, step: number) =>
  (
    await db.prisma.authenticatorApp.updateMany({
      where: { personId, OR: [{ lastStep: null }, { lastStep: { lt: step } }] },
      data: { lastStep: step },
    })
  ).count === 1;
export const readAppSecrets = (db: Queryable) =>
  db.prisma.authenticatorApp.findMany({ select: { personId: true, secret: true } });
/** Unless the app was replaced meanwhile. */
export const replaceAppSecret = async (
  db: Queryable,
  { by, ...stored }: { personId: number; secret: string; by: string },
) => (await db.prisma.authenticatorApp.updateMany({ where: stored, data: { secret: by } })).count;
export const dropApp = async (db: Queryable, personId: number) =>
  (await db.prisma.authenticatorApp.deleteMany({ where: { personId } })).count;

export const countCodes = (db: Queryable, personId: number) =>
  db.prisma.recoveryCode.count({ where: { personId, usedAt: null } });
export async function replaceCodes(db: Queryable, personId: number, hashes: Bytes[]) {
  await db.prisma.recoveryCode.deleteMany({ where: { personId } });
  await db.prisma.recoveryCode.createMany({ data: hashes.map((codeHash) => ({ personId, codeHash })) });
}
export const useCode = async (db: Queryable, personId: number, codeHash: Bytes) =>
  (
    await db.prisma.recoveryCode.updateMany({
      where: { personId, codeHash, usedAt: null },
      data: { usedAt: new Date() },
    })
  ).count === 1;

export const saveStep = (
  db: Queryable,
  {
    tokenHash,
    ...data
  }: { tokenHash: Bytes; personId: number | null; challenge: string | null; expiresAt: Date },
) => db.prisma.signInStep.upsert({ where: { tokenHash }, create: { tokenHash, ...data }, update: data });
export const readStep = (db: Queryable, tokenHash: Bytes) =>
  db.prisma.signInStep.findFirst({ where: { tokenHash, expiresAt: { gt: new Date() } } });
/** Takes a step away; of two who would finish it, one gets it. */
export const takeStep = async (db: Queryable, tokenHash: Bytes) =>
  (await db.prisma.signInStep.deleteMany({ where: { tokenHash } })).count === 1;

/** Takes every second factor of a person away. */
export async function dropAll(db: Queryable, personId: number) {
  await db.prisma.passkey.deleteMany({ where: { personId } });
  await db.prisma.authenticatorApp.deleteMany({ where: { personId } });
  await db.prisma.recoveryCode.deleteMany({ where: { personId } });
  await db.prisma.signInStep.deleteMany({ where: { personId } });
}

export const readRules = async (db: Queryable) => {
  const { secondFactorRoles, version } = await db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } });
  return { secondFactorRoles: secondFactorRoles as Role[], version };
};
export const lockRules = (execute: SqlExecutor) =>
  execute(sql`select "id" from "shop" where "id" = 1 for update`);
export const changeRules = (db: Queryable, secondFactorRoles: Role[]) =>
  db.prisma.shop.update({ where: { id: 1 }, data: { secondFactorRoles, version: { increment: 1 } } });
