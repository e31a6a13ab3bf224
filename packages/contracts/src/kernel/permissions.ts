import { z } from 'zod';

/** The roles a person may hold, several at once. The owner administers the install. */
export const Role = z.enum(['estimator', 'planner', 'operator', 'lab', 'quality', 'owner']);
export type Role = z.output<typeof Role>;

const everyone = Role.options;

/** What may be done, and by which roles. Whoever is not named is refused. */
export const permissions = {
  'customers.read': ['estimator', 'planner', 'quality', 'owner'],
  'customers.write': ['estimator', 'planner', 'owner'],
  'materials.read': everyone,
  'materials.write': ['estimator', 'lab', 'quality', 'owner'],
  'parts.read': everyone,
  'parts.write': ['estimator', 'planner', 'owner'],
  'standards.read': everyone,
  'standards.write': ['estimator', 'planner', 'lab', 'quality', 'owner'],
  'standards.approve': ['lab', 'quality', 'owner'],
  'tanks.read': everyone,
  'tanks.write': ['planner', 'lab', 'owner'],
  'files.write': ['estimator', 'planner', 'lab', 'quality', 'owner'],
  'lab.read': everyone,
  'lab.write': ['lab', 'owner'],
  'methods.write': ['lab', 'quality', 'owner'],
  'coupons.write': ['lab', 'quality', 'owner'],
  'coupons.approve': ['lab', 'quality', 'owner'],
  'evidence.override': ['lab', 'quality', 'owner'],
  'lab.override': ['planner', 'lab', 'quality', 'owner'],
  'rates.read': ['estimator', 'owner'],
  'rates.write': ['owner'],
  'recipes.read': everyone,
  'recipes.write': ['estimator', 'lab', 'quality', 'owner'],
  'recipes.approve': ['quality', 'lab', 'owner'],
  'enquiries.read': ['estimator', 'planner', 'lab', 'quality', 'owner'],
  'enquiries.write': ['estimator', 'owner'],
  'quotations.read': ['estimator', 'planner', 'owner'],
  'quotations.write': ['estimator', 'owner'],
  'orders.read': ['estimator', 'planner', 'quality', 'owner'],
  'orders.write': ['estimator', 'planner', 'owner'],
  'invoices.read': ['estimator', 'planner', 'owner'],
  'invoices.write': ['estimator', 'owner'],
  'lots.read': everyone,
  'lots.release': ['planner', 'owner'],
  'lots.hold': ['planner', 'operator', 'lab', 'quality', 'owner'],
  'lots.unhold': ['planner', 'quality', 'owner'],
  'steps.sign': ['operator', 'lab', 'quality', 'owner'],
  'steps.correct': ['operator', 'lab', 'quality', 'owner'],
  'steps.settle': ['quality', 'owner'],
  'inspection.write': ['quality', 'owner'],
  'shipping.write': ['planner', 'quality', 'owner'],
  'trace.read': ['planner', 'lab', 'quality', 'owner'],
  'audit.read': ['quality', 'owner'],
  'people.read': ['planner', 'quality', 'owner'],
  'people.write': ['owner'],
  'competence.write': ['quality', 'owner'],
  'setup.write': ['owner'],
} as const satisfies Record<string, readonly Role[]>;

export type Permission = keyof typeof permissions;

/** What each permission lets somebody do, in the words of the shop. */
export const permissionLabels: Record<Permission, string> = {
  'customers.read': 'See customers',
  'customers.write': 'Add and change customers',
  'materials.read': 'See materials',
  'materials.write': 'Add and change materials',
  'parts.read': 'See parts',
  'parts.write': 'Add and change parts',
  'standards.read': 'See colour standards',
  'standards.write': 'Write drafts of colour standards',
  'standards.approve': 'Approve and retire colour standards written by others',
  'tanks.read': 'See tanks, baths, power supplies and racks',
  'tanks.write': 'Change tanks, power supplies and racks; start and dump baths',
  'files.write': 'Attach files to records',
  'lab.read': 'See the wet lab',
  'lab.write': 'Record analyses and additions, manage chemicals and instruments',
  'methods.write': 'Write methods of analysis and review analyses',
  'coupons.write': 'Enter coupon series and calibrations',
  'coupons.approve': 'Approve and retire coupon series and calibrations written by others',
  'evidence.override': 'Allow work on a recipe that is not proved for it, with a reason',
  'lab.override': 'Override a stopped or overdue bath, with a reason',
  'rates.read': 'See rates and margins',
  'rates.write': 'Put new rates in force',
  'recipes.read': 'See recipes',
  'recipes.write': 'Write drafts of recipes',
  'recipes.approve': 'Approve and withdraw recipes written by others',
  'enquiries.read': 'See enquiries',
  'enquiries.write': 'Write down and answer enquiries',
  'quotations.read': 'See quotations',
  'quotations.write': 'Write, send and close quotations',
  'orders.read': 'See orders',
  'orders.write': 'Enter and change orders',
  'invoices.read': 'See invoices and what is still to be paid',
  'invoices.write': 'Write and issue invoices, book payments',
  'lots.read': 'See lots and travelers',
  'lots.release': 'Release lots and change travelers',
  'lots.hold': 'Put a lot on hold',
  'lots.unhold': 'Lift a hold',
  'steps.sign': 'Sign steps at the tank',
  'steps.correct': 'Correct a reading; the old one stays',
  'steps.settle': 'Decide about steps that were signed offline and refused',
  'inspection.write': 'Accept and reject at the final check',
  'shipping.write': 'Ship lots',
  'trace.read': 'Search actual settings',
  'audit.read': 'Read the audit trail',
  'people.read': 'See who has an account',
  'people.write': 'Invite people and change their roles',
  'competence.write': 'Grant and withdraw competence, and allow work outside it',
  'setup.write': 'Change the shop and its numbering',
};

/**
 * Whether any of the roles carries the permission.
 *
 * @example
 * may(['planner'], 'rates.read') // false
 */
export const may = (roles: readonly Role[], permission: Permission): boolean =>
  (permissions[permission] as readonly Role[]).some((role) => roles.includes(role));
