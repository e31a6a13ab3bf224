/**
 * What a grown shop has more of, and how much of it goes together: customers, recipes and parts are kept for years; a
 * fill of the baths lasts thirteen days; a piece of work is everything from a quotation to the last shipment.
 */
export type Group = 'customer' | 'recipe' | 'part' | 'fill' | 'work';

/** Tables in an order in which each stands after what it refers to. */
export const copied: Readonly<Record<string, Group>> = {
  customer: 'customer',
  customer_contact: 'customer',
  recipe: 'recipe',
  recipe_revision: 'recipe',
  recipe_step: 'recipe',
  part: 'part',
  bath: 'fill',
  bath_setup: 'fill',
  analysis: 'fill',
  analysis_result: 'fill',
  chemical_lot: 'fill',
  addition: 'fill',
  addition_line: 'fill',
  stock_movement: 'fill',
  bath_hold: 'fill',
  bath_request: 'fill',
  quotation: 'work',
  quotation_revision: 'work',
  quotation_line: 'work',
  quotation_break: 'work',
  customer_order: 'work',
  order_line: 'work',
  order_receipt: 'work',
  lot: 'work',
  traveler: 'work',
  traveler_step: 'work',
  step_sign_off: 'work',
  step_run: 'work',
  step_reading: 'work',
  step_correction: 'work',
  step_count_correction: 'work',
  step_done_correction: 'work',
  lot_hold: 'work',
  final_check: 'work',
  shipment: 'work',
  colour_reading: 'work',
  audit_entry: 'work',
};

/** What stays where it is while older work is put before it: what is kept for years does not move. */
export const isMoved = (group: Group): boolean => group === 'fill' || group === 'work';

/**
 * Which rows of today are the pattern of older ones: only work that is over, and of the audit trail only what speaks of it.
 * The others follow what they refer to.
 */
export const patterns: Readonly<Record<string, string>> = {
  customer: `t."mergedIntoId" is null`,
  recipe_revision: `t."status" = 'approved'`,
  part: `t."archivedAt" is null and t."successorId" is null`,
  addition: `t."state" = 'done'`,
  bath_hold: `t."releasedAt" is not null`,
  bath_request: `t."closedAt" is not null`,
  quotation: `not exists (select from "quotation_revision" r where r."quotationId" = t."id" and r."status" = 'draft')
    and not exists (select from "quotation_revision" r join "customer_order" o on o."quotationRevisionId" = r."id"
                     where r."quotationId" = t."id" and o."status" = 'open')`,
  customer_order: `t."status" <> 'open'`,
  lot: `t."status" in ('shipped', 'cancelled')`,
  audit_entry: `t."recordKind" in ('quotation', 'order', 'lot', 'traveler', 'shipment')`,
};

/** References that no foreign key of the database tells, by the name of their column. */
export const unsaid: Readonly<Record<string, string>> = {
  lotId: 'lot',
  partId: 'part',
  travelerId: 'traveler',
  signOffId: 'step_sign_off',
  bathId: 'bath',
  recipeRevisionId: 'recipe_revision',
  quotationRevisionId: 'quotation_revision',
  stepId: 'traveler_step',
};

/** Tables whose records people know by a number, by the name that the audit trail and the number series have for them. */
export const numbered: Readonly<Record<string, string>> = {
  quotation: 'quotation',
  order: 'customer_order',
  lot: 'lot',
  traveler: 'traveler',
  shipment: 'shipment',
  bath: 'bath',
  analysis: 'analysis',
  addition: 'addition',
  customer: 'customer',
  recipe: 'recipe',
};
