import type { Permission } from '@huelot/contracts';
import type { IconName } from '../ui/icons.ts';

export interface NavItem {
  label: string;
  href: string;
  icon: IconName;
  /** Absent: everybody who is signed in. */
  needs?: Permission;
}

export interface NavGroup {
  label: string;
  items: readonly NavItem[];
}

/** Everywhere the sidebar leads, in the order the work goes. */
export const navGroups: readonly NavGroup[] = [
  { label: 'Now', items: [{ label: 'Today', href: '/today', icon: 'today' }] },
  {
    label: 'Sell',
    items: [
      { label: 'Customers', href: '/customers', icon: 'customers', needs: 'customers.read' },
      { label: 'Parts', href: '/parts', icon: 'parts', needs: 'parts.read' },
      { label: 'Colours', href: '/colours', icon: 'colours', needs: 'recipes.read' },
      { label: 'Enquiries', href: '/enquiries', icon: 'enquiries', needs: 'enquiries.read' },
      { label: 'Quotations', href: '/quotations', icon: 'quotations', needs: 'quotations.read' },
      { label: 'Orders', href: '/orders', icon: 'orders', needs: 'orders.read' },
      { label: 'Deliveries', href: '/deliveries', icon: 'deliveries', needs: 'orders.read' },
      { label: 'Invoices', href: '/invoices', icon: 'invoices', needs: 'invoices.read' },
    ],
  },
  {
    label: 'Run',
    items: [
      { label: 'Lots', href: '/lots', icon: 'lots', needs: 'lots.read' },
      { label: 'Tankside', href: '/tankside', icon: 'tankside', needs: 'steps.sign' },
      { label: 'Recipes', href: '/recipes', icon: 'recipes', needs: 'recipes.read' },
      { label: 'Colour standards', href: '/colour-standards', icon: 'colour', needs: 'standards.read' },
      { label: 'Tanks', href: '/tanks', icon: 'tanks', needs: 'tanks.read' },
      { label: 'Wet lab', href: '/lab', icon: 'lab', needs: 'lab.read' },
      { label: 'Colour bench', href: '/colour-bench', icon: 'bench', needs: 'lab.read' },
      { label: 'Calibrations', href: '/calibrations', icon: 'calibrations', needs: 'lab.read' },
      { label: 'Materials', href: '/materials', icon: 'materials', needs: 'materials.read' },
    ],
  },
  {
    label: 'Records',
    items: [
      {
        // A soft hyphen: the rail of a tablet is narrow.
        label: 'Noncon\u00adformances',
        href: '/nonconformances',
        icon: 'nonconformances',
        needs: 'lots.read',
      },
      {
        label: 'Assessments',
        href: '/assessments',
        icon: 'assessments',
        needs: 'trace.read',
      },
      { label: 'Certificates', href: '/certificates', icon: 'certificates', needs: 'orders.read' },
      { label: 'Trace', href: '/trace', icon: 'trace', needs: 'trace.read' },
      { label: 'Audit trail', href: '/audit', icon: 'file', needs: 'audit.read' },
    ],
  },
  {
    label: 'Shop',
    items: [
      { label: 'Rates', href: '/rates', icon: 'rates', needs: 'rates.read' },
      { label: 'People', href: '/people', icon: 'people', needs: 'people.read' },
      { label: 'Setup', href: '/setup', icon: 'setup', needs: 'setup.write' },
    ],
  },
];
