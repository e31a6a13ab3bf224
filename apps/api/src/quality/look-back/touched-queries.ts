import { stepQuantities, type LookBackKind } from '@huelot/contracts';
import { Prisma, sql } from '../../db/client.ts';

export interface Span {
  from?: string | undefined;
  to?: string | undefined;
}

const zone = sql`(select "timeZone" from "shop" where "id" = 1)`;
const during = (column: Prisma.Sql, { from, to }: Span) => sql`
  ${from === undefined ? Prisma.empty : sql`and ${column} >= (${from}::date)::timestamp at time zone ${zone}`}
  ${to === undefined ? Prisma.empty : sql`and ${column} < ((${to}::date) + 1)::timestamp at time zone ${zone}`}`;

const signed = (which: Prisma.Sql, span: Span) => sql`
  select s."lotId", 'step' as "kind", s."id", concat(st."position", ' ', st."title") as "label", s."doneAt" as "at"
    from "step_sign_off" s join "traveler_step" st on st."id" = s."stepId"
   where ${which} ${during(sql`s."doneAt"`, span)}`;

/**
 * A result stands from its sample until the next of its component in the bath that was not void: what was signed in between was
 * signed upon it. An analysis of another component ends nothing.
 */
const signedUponAnalyses = (which: Prisma.Sql, span: Span) => sql`
  select s."lotId", 'analysis' as "kind", a."id", a."number" as "label", a."sampledAt" as "at"
    from "analysis" a
    join "bath" b on b."id" = a."bathId"
    join "analysis_result" r on r."analysisId" = a."id"
    cross join lateral (
      select min(n."sampledAt") as "sampledAt"
        from "analysis_result" n join "analysis" na on na."id" = n."analysisId" and na."voidedAt" is null
       where n."bathId" = a."bathId" and n."component" = r."component" and n."sampledAt" > a."sampledAt") next
    join "step_sign_off" s on s."tankId" = b."tankId" and s."bathId" = a."bathId" and s."doneAt" >= a."sampledAt"
         and (next."sampledAt" is null or s."doneAt" < next."sampledAt")
   where ${which} ${during(sql`s."doneAt"`, span)}`;

/** What went into a bath stays in it until it is dumped. */
const signedAfterAdditions = (chemicalLotId: number, span: Span) => sql`
  select s."lotId", 'addition' as "kind", ad."id", ad."number" as "label", ad."finishedAt" as "at"
    from "addition_line" li
    join "addition" ad on ad."id" = li."additionId" and ad."finishedAt" is not null
    join "bath" b on b."id" = ad."bathId"
    join "step_sign_off" s on s."tankId" = b."tankId" and s."bathId" = ad."bathId" and s."doneAt" >= ad."finishedAt"
   where li."chemicalLotId" = ${chemicalLotId} ${during(sql`s."doneAt"`, span)}`;

/** Readings that were corrected or withdrawn since are among them: somebody went by them. */
const coloursRead = (instrumentId: number, span: Span) => sql`
  select r."lotId", 'colour-reading' as "kind", r."id", concat_ws(' ', 'colour', nullif(r."zone", '')) as "label", r."readAt" as "at"
    from "colour_reading" r where r."instrumentId" = ${instrumentId} ${during(sql`r."readAt"`, span)}`;

const quantityNames = JSON.stringify(
  Object.fromEntries(Object.entries(stepQuantities).map(([quantity, { label }]) => [quantity, label])),
);
/**
 * A reading at a tank names its instrument by the register. Where it is a word, as on tablets before there was a register, it counts where
 * that is the code of the instrument, its name or both.
 */
const tankReadings = (instrumentId: number, span: Span) => sql`
  select s."lotId", 'reading' as "kind", r."id", concat(st."position", ' ', st."title", ': ', ${quantityNames}::jsonb ->> r."quantity") as "label", s."doneAt" as "at"
    from "instrument" i
    join "step_reading" r on r."instrumentId" = i."id" or r."instrumentId" is null and r."instrument" <> ''
         and lower(r."instrument") = any(array[lower(i."code"), lower(i."name"), lower(i."code" || ' ' || i."name")])
    join "step_sign_off" s on s."id" = r."signOffId"
    join "traveler_step" st on st."id" = s."stepId"
   where i."id" = ${instrumentId} ${during(sql`s."doneAt"`, span)}`;

/** What was made by a revision was believed to come out right because of what the instrument had measured. */
const restingOnEvidence = (instrumentId: number, span: Span) => sql`
  select distinct s."lotId", 'evidence' as "kind", rr."recipeId" as "id",
         concat('evidence behind ', rc."number", ' rev ', rr."revision") as "label", e."citedAt" as "at"
    from "recipe_evidence" e
    join "recipe_revision" rr on rr."id" = e."revisionId"
    join "recipe" rc on rc."id" = rr."recipeId"
    join "step_sign_off" s on s."recipeRevisionId" = e."revisionId"
   where e."instrumentId" = ${instrumentId} ${during(sql`s."doneAt"`, span)}`;

/** The lots that a record touched, a row for each tie: lot, what binds it, and when. */
export const touchedBy: Record<LookBackKind, (id: number, span: Span) => Prisma.Sql> = {
  bath: (id, span) =>
    signed(sql`s."tankId" = (select "tankId" from "bath" where "id" = ${id}) and s."bathId" = ${id}`, span),
  analysis: (id, span) => signedUponAnalyses(sql`a."id" = ${id}`, span),
  instrument: (id, span) =>
    Prisma.join(
      [
        signedUponAnalyses(sql`a."instrumentId" = ${id}`, span),
        ...[coloursRead(id, span), tankReadings(id, span), restingOnEvidence(id, span)],
      ],
      ' union all ',
    ),
  titrant: (id, span) =>
    signedUponAnalyses(
      sql`a."standardisationId" in (select "id" from "standardisation" where "titrantId" = ${id})`,
      span,
    ),
  'chemical-lot': signedAfterAdditions,
  supply: (id, span) => signed(sql`s."supplyId" = ${id}`, span),
  rack: (id, span) => signed(sql`s."lotId" in (select "id" from "lot" where "rackId" = ${id})`, span),
  person: (id, span) => signed(sql`s."personId" = ${id}`, span),
  'recipe-revision': (id, span) => signed(sql`s."recipeRevisionId" = ${id}`, span),
};

/** How each kind is listed: key and name, the newest first. */
export const namesOf: Record<LookBackKind, Prisma.Sql> = {
  bath: sql`select b."id", concat_ws(' in ', b."number", t."code") as "label" from "bath" b join "tank" t on t."id" = b."tankId"`,
  analysis: sql`select "id", "number" as "label" from "analysis"`,
  instrument: sql`select "id", concat_ws(' ', "code", "name") as "label" from "instrument"`,
  titrant: sql`select "id", "label" from "titrant_lot"`,
  'chemical-lot': sql`
    select cl."id", concat_ws(' lot ', c."name", cl."supplierLot") as "label"
      from "chemical_lot" cl join "chemical" c on c."id" = cl."chemicalId"`,
  supply: sql`select "id", concat_ws(' ', "code", "name") as "label" from "power_supply"`,
  rack: sql`select "id", concat_ws(' ', "code", "name") as "label" from "rack"`,
  person: sql`select "id", "displayName" as "label" from "person"`,
  'recipe-revision': sql`
    select rr."id", concat(r."number", ' ', r."name", ' rev ', rr."revision") as "label"
      from "recipe_revision" rr join "recipe" r on r."id" = rr."recipeId" where rr."status" <> 'draft'`,
};
