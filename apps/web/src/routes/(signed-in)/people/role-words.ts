import { permissions, Role, type Permission } from '@huelot/contracts';

export const roleWords: Record<Role, string> = {
  estimator: 'Prices work: customers, parts, quotations, rates to read.',
  planner: 'Turns orders into lots: tanks, release, due dates, shipping.',
  operator: 'Signs steps at the tanks.',
  lab: 'Keeps the baths and writes recipes.',
  quality: 'Approves recipes, checks lots, lifts holds, reads every change.',
  owner: 'Administers the install: rates, people, setup, and everything else.',
};

export const roleOptions = Role.options.map((value) => ({ value, label: value, hint: roleWords[value] }));

/** What each permission lets somebody do, in the words of the shop. */
export const permissionWords: Record<Permission, string> = {
  'customers.read': 'See customers',
  'customers.write': 'Add and change customers',
  'materials.read': 'See materials',
  'materials.write': 'Add and change materials',
  'parts.read': 'See parts',
  'parts.write': 'Add and change parts',
  'tanks.read': 'See tanks, baths, power supplies and racks',
  'tanks.write': 'Change them; start and dump a bath',
  'files.write': 'Keep files with records',
  'lab.read': 'See the wet lab',
  'lab.write': 'Record analyses and additions, keep chemicals and instruments',
  'methods.write': 'Write methods of analysis and review analyses',
  'coupons.write': 'Enter coupon series',
  'coupons.approve': 'Approve and retire coupon series written by others',
  'lab.override': 'Let a step run in a stopped or overdue bath, with the reason',
  'rates.read': 'See rates and margins',
  'rates.write': 'Put new rates in force',
  'recipes.read': 'See recipes',
  'recipes.write': 'Write drafts of recipes',
  'recipes.approve': 'Approve and withdraw recipes written by others',
  'quotations.read': 'See quotations',
  'quotations.write': 'Write, send and decide quotations',
  'orders.read': 'See orders',
  'orders.write': 'Enter and change orders',
  'lots.read': 'See lots and travelers',
  'lots.release': 'Release lots and change travelers',
  'lots.hold': 'Put a lot on hold',
  'lots.unhold': 'Lift a hold',
  'steps.sign': 'Sign steps at the tank',
  'steps.correct': 'Correct a reading; the old one stays',
  'inspection.write': 'Accept and reject at the final check',
  'shipping.write': 'Ship lots',
  'trace.read': 'Search as-run settings',
  'audit.read': 'Read the audit trail',
  'people.read': 'See who has an account',
  'people.write': 'Invite people and change their roles',
  'setup.write': 'Change the shop and its numbering',
};

export const permissionNames = Object.keys(permissions) as Permission[];
