import type { Role } from '@huelot/contracts';

/** Who may do what, as agreed with the shop: written out here, so that a slip in the code's own table is noticed. */
const table = `
  permission         estimator planner operator lab quality owner
  customers.read    x x . . x x
  customers.write   x x . . . x
  materials.read    x x x x x x
  materials.write   x . . x x x
  parts.read        x x x x x x
  parts.write       x x . . . x
  standards.read    x x x x x x
  standards.write   x x . x x x
  standards.approve . . . x x x
  tanks.read        x x x x x x
  tanks.write       . x . x . x
  files.write       x x . x x x
  lab.read          x x x x x x
  lab.write         . . . x . x
  methods.write     . . . x x x
  coupons.write     . . . x x x
  coupons.approve   . . . x x x
  evidence.override . . . x x x
  lab.override      . x . x x x
  rates.read        x . . . . x
  rates.write       . . . . . x
  recipes.read      x x x x x x
  recipes.write     x . . x x x
  recipes.approve   . . . x x x
  enquiries.read    x x . x x x
  enquiries.write   x . . . . x
  quotations.read   x x . . . x
  quotations.write  x . . . . x
  orders.read       x x . . x x
  orders.write      x x . . . x
  invoices.read     x x . . . x
  invoices.write    x . . . . x
  lots.read         x x x x x x
  lots.release      . x . . . x
  lots.hold         . x x x x x
  lots.unhold       . x . . x x
  steps.sign        . . x x x x
  steps.correct     . . x x x x
  steps.settle      . . . . x x
  inspection.write  . . . . x x
  shipping.write    . x . . x x
  trace.read        . x . x x x
  audit.read        . . . . x x
  people.read       . x . . x x
  people.write      . . . . . x
  competence.write  . . . . x x
  setup.write       . . . . . x`;

const [head = [], ...lines] = table
  .trim()
  .split('\n')
  .map((line) => line.trim().split(/\s+/));
const roles = head.slice(1) as Role[];

/** The roles that carry each permission. */
export const whoMay: ReadonlyMap<string, readonly Role[]> = new Map(
  lines.map(([permission = '', ...marks]) => [permission, roles.filter((_, index) => marks[index] === 'x')]),
);
