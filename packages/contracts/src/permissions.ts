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
  'tanks.read': everyone,
  'tanks.write': ['planner', 'lab', 'owner'],
  'files.write': ['estimator', 'planner', 'lab', 'quality', 'owner'],
  'lab.read': everyone,
  'lab.write': ['lab', 'owner'],
  'methods.write': ['lab', 'quality', 'owner'],
  'coupons.write': ['lab', 'quality', 'owner'],
  'coupons.approve': ['lab', 'quality', 'owner'],
  'lab.override': ['planner', 'lab', 'quality', 'owner'],
  'rates.read': ['estimator', 'owner'],
  'rates.write': ['owner'],
  'recipes.read': everyone,
  'recipes.write': ['estimator', 'lab', 'quality', 'owner'],
  'recipes.approve': ['quality', 'lab', 'owner'],
  'quotations.read': ['estimator', 'planner', 'owner'],
  'quotations.write': ['estimator', 'owner'],
  'orders.read': ['estimator', 'planner', 'quality', 'owner'],
  'orders.write': ['estimator', 'planner', 'owner'],
  'lots.read': everyone,
  'lots.release': ['planner', 'owner'],
  'lots.hold': ['planner', 'operator', 'lab', 'quality', 'owner'],
  'lots.unhold': ['planner', 'quality', 'owner'],
  'steps.sign': ['operator', 'lab', 'quality', 'owner'],
  'steps.correct': ['operator', 'lab', 'quality', 'owner'],
  'inspection.write': ['quality', 'owner'],
  'shipping.write': ['planner', 'quality', 'owner'],
  'trace.read': ['planner', 'lab', 'quality', 'owner'],
  'audit.read': ['quality', 'owner'],
  'people.read': ['planner', 'quality', 'owner'],
  'people.write': ['owner'],
  'setup.write': ['owner'],
} as const satisfies Record<string, readonly Role[]>;

export type Permission = keyof typeof permissions;

/**
 * Whether any of the roles carries the permission.
 *
 * @example
 * may(['planner'], 'rates.read') // false
 */
export const may = (roles: readonly Role[], permission: Permission): boolean =>
  (permissions[permission] as readonly Role[]).some((role) => roles.includes(role));
