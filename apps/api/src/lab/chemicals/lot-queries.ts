import type {
  ChemicalForm,
  ChemicalHazard,
  ChemicalLot,
  ChemicalLotStatus,
  Solute,
  StockMovement,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export interface LotRow {
  id: number;
  chemicalId: number;
  chemicalCode: string;
  chemicalName: string;
  solute: Solute | null;
  hazards: ChemicalHazard[];
  sdsFileId: number | null;
  form: ChemicalForm;
  supplierLot: string;
  receivedAt: Date;
  receivedBy: string;
  receivedKg: number;
  assayMassFraction: number;
  impurityMassFraction: number;
  densityKgPerM3: number | null;
  pricePerKg: string | null;
  expiresOn: string | null;
  expired: boolean;
  status: ChemicalLotStatus;
  balanceKg: number;
  notes: string;
  version: number;
}

const lots = sql`
  select l."id", l."chemicalId", c."code" as "chemicalCode", c."name" as "chemicalName", c."solute", c."hazards", c."sdsFileId", c."form",
         l."supplierLot", l."receivedAt", l."snapshot" ->> 'receivedBy' as "receivedBy", l."receivedKg", l."assayMassFraction",
         c."impurityMassFraction", coalesce(l."densityKgPerM3", c."densityKgPerM3") as "densityKgPerM3",
         l."pricePerKg"::text as "pricePerKg", l."expiresOn"::text as "expiresOn",
         coalesce(l."expiresOn" < (now() at time zone (select "timeZone" from "shop"))::date, false) as "expired",
         l."status", l."notes", l."version",
         coalesce((select m."balanceKg" from "stock_movement" m where m."lotId" = l."id" order by m."id" desc limit 1), 0)::float8 as "balanceKg"
    from "chemical_lot" l
    join "chemical" c on c."id" = l."chemicalId"`;

export const readLots = (execute: SqlExecutor, chemicalId: number) =>
  execute<LotRow>(
    sql`${lots} where l."chemicalId" = ${chemicalId} order by l."receivedAt" desc, l."id" desc limit 500`,
  );
export const readLot = async (execute: SqlExecutor, id: number): Promise<LotRow | null> =>
  (await execute<LotRow>(sql`${lots} where l."id" = ${id}`))[0] ?? null;
/** Open lots with something in them, the one that expires first on top. */
export const readUsableLots = (
  execute: SqlExecutor,
  { chemicalId, solute }: { chemicalId?: number | undefined; solute?: Solute | null | undefined },
) =>
  execute<LotRow>(sql`
    select * from (${lots}
      where l."status" = 'open' and c."archivedAt" is null
        ${chemicalId === undefined ? Prisma.empty : sql`and c."id" = ${chemicalId}`}
        ${solute == null ? Prisma.empty : sql`and c."solute" = ${solute}`}) x
     where x."balanceKg" > 0
     order by x."expiresOn" nulls last, x."id" limit 500`);

export const addLot = (
  db: Queryable,
  options: {
    chemicalId: number;
    supplierLot: string;
    receivedAt: string;
    receivedById: number;
    receivedKg: number;
    assayMassFraction: number;
    densityKgPerM3: number | null;
    expiresOn: string | null;
    pricePerKg: string | null;
    status: ChemicalLotStatus;
    notes: string;
  },
) =>
  db.prisma.chemicalLot.create({
    data: { ...options, receivedAt: new Date(options.receivedAt), expiresOn: day(options.expiresOn) },
    select: { id: true },
  });
export const changeLot = (
  db: Queryable,
  {
    id,
    ...of
  }: Pick<LotRow, 'id' | 'status' | 'assayMassFraction' | 'densityKgPerM3' | 'expiresOn' | 'notes'> & {
    pricePerKg: string | null;
  },
) =>
  db.prisma.chemicalLot.update({
    where: { id },
    data: { ...of, expiresOn: day(of.expiresOn), version: { increment: 1 } },
    select: { id: true },
  });
const day = (text: string | null) => (text === null ? null : new Date(`${text}T00:00:00Z`));

/** Books a movement; the database reckons the balance and refuses one below nothing. */
export const addMovement = (
  execute: SqlExecutor,
  {
    lotId,
    kind,
    kg,
    lineId,
    reason,
    personId,
  }: {
    lotId: number;
    kind: StockMovement['kind'];
    kg: number;
    lineId: number | null;
    reason: string;
    personId: number;
  },
) =>
  execute(sql`
    insert into "stock_movement" ("lotId", "kind", "kg", "lineId", "reason", "personId")
    values (${lotId}, ${kind}, ${kg}, ${lineId}::int, ${reason}, ${personId})`);

interface MovementRow {
  id: number;
  at: Date;
  kind: StockMovement['kind'];
  kg: number;
  balanceKg: number;
  addition: StockMovement['addition'];
  reason: string;
  by: string;
}
/** The ledger of a lot, newest first, one more than the page holds. */
export const readMovements = (
  execute: SqlExecutor,
  { lotId, before, limit }: { lotId: number; before: number | null; limit: number },
) =>
  execute<MovementRow>(sql`
    select m."id", m."at", m."kind", m."kg", m."balanceKg", m."reason", m."snapshot" ->> 'by' as "by",
           case when a."id" is null then null else jsonb_build_object('id', a."id", 'number', a."number",
             'bathId', b."id", 'bathNumber', b."number") end as "addition"
      from "stock_movement" m
      left join "addition_line" n on n."id" = m."lineId"
      left join "addition" a on a."id" = n."additionId"
      left join "bath" b on b."id" = a."bathId"
     where m."lotId" = ${lotId} ${before === null ? Prisma.empty : sql`and m."id" < ${before}`}
     order by m."id" desc limit ${limit + 1}`);

/** How a page shows a lot. */
export const toLot = (row: LotRow): ChemicalLot => ({
  ...row,
  receivedAt: row.receivedAt.toISOString(),
});
