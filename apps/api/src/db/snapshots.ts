import { type Prisma, sql } from './client.ts';

/*
 * An issued record shows its snapshot: what the database copied into it when it was issued (`take_snapshot`). These pick out
 * of a snapshot what replies hold. `snapshot_of` gives the same shapes of the living data, for drafts.
 */

/** The customer as the record names it, with the id of the customer it belongs to now: a merge moves the record. */
export const customerIn = (snapshot: Prisma.Sql, customerId: Prisma.Sql) => sql`
  jsonb_build_object('id', ${customerId}, 'number', ${snapshot} -> 'customer' -> 'number', 'name', ${snapshot} -> 'customer' -> 'name')`;

/** Number, revision and description of a part, the colour it asks for, and its zones. */
export const partRef = (part: Prisma.Sql) => sql`
  jsonb_build_object('id', ${part} -> 'id', 'number', ${part} -> 'number', 'revision', ${part} -> 'revision', 'description', ${part} -> 'description',
    'agreedColour', agreed_colour_of_part(${part}), 'zones', zones_of_snapshot(${part}))`;

/** `FB-120 rev C` */
export const partName = (part: Prisma.Sql) =>
  sql`concat_ws(' ', ${part} ->> 'number', 'rev', ${part} ->> 'revision')`;

/** Name and target of the colour that a part asks for; null where none was agreed in figures. */
export const targetOf = (part: Prisma.Sql) => sql`(
  select jsonb_build_object('name', c."colour" -> 'name', 'lab', c."colour" -> 'target')
    from (select agreed_colour_of_part(${part}) as "colour") c where jsonb_typeof(c."colour" -> 'target') = 'object')`;

/** `Titanium grade 2, annealed` */
export const materialName = (part: Prisma.Sql) =>
  sql`concat_ws(', ', ${part} -> 'material' ->> 'name', nullif(${part} -> 'material' ->> 'condition', ''))`;

/**
 * Names of a recipe with the state of its revision, the row `revision`, which is never part of a snapshot; how it was
 * approved is frozen with it.
 */
export const recipeRef = (recipe: Prisma.Sql, revision: Prisma.Sql) => sql`
  jsonb_build_object('recipeId', ${recipe} -> 'recipeId', 'revisionId', ${recipe} -> 'revisionId', 'number', ${recipe} -> 'number',
    'name', ${recipe} -> 'name', 'revision', ${recipe} -> 'revision', 'status', ${revision}."status",
    'selfApproved', ${revision}."selfApproved")`;
