import type { SetUpPage } from '@huelot/contracts';

/** Where each thing that a new shop needs is entered, written or looked over. */
export const setUpAddresses: Record<SetUpPage, string> = {
  shop: '/setup/shop',
  materials: '/materials',
  newTank: '/tanks/new',
  newSupply: '/tanks/supplies/new',
  newRack: '/tanks/racks/new',
  newRates: '/rates/new',
  newRecipe: '/recipes/new',
  recipeDrafts: '/recipes?has=draft',
  newPerson: '/people/new',
  newCustomer: '/customers/new',
  newPart: '/parts/new',
  newQuotation: '/quotations/new',
  quotations: '/quotations',
  newBath: '/lab/fill',
  newChemical: '/lab/chemicals/new',
  methods: '/lab/methods',
};
