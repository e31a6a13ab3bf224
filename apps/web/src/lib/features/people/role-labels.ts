import { permissions, Role, type Permission } from '@huelot/contracts';

export const roleWords: Record<Role, string> = {
  estimator: 'Prices work: customers, parts and quotations; can read rates.',
  planner: 'Turns orders into lots: tanks, release, due dates, shipping.',
  operator: 'Signs steps at the tanks.',
  lab: 'Looks after the baths and writes recipes.',
  quality: 'Approves recipes, checks lots, lifts holds, reads every change.',
  owner: 'Runs the installation: rates, people, setup and everything else.',
};

export const roleOptions = Role.options.map((value) => ({ value, label: value, hint: roleWords[value] }));

export const permissionNames = Object.keys(permissions) as Permission[];
