import type { RecordKind } from '@huelot/contracts';

/** Where a record of a kind is shown; kinds without a page of their own lead nowhere. */
const pages: Readonly<Partial<Record<RecordKind, (id: number) => string>>> = {
  customer: (id) => `/customers/${id}`,
  material: (id) => `/materials/${id}`,
  part: (id) => `/parts/${id}`,
  tank: (id) => `/tanks/${id}`,
  bath: (id) => `/lab/baths/${id}`,
  supply: (id) => `/tanks/supplies/${id}`,
  rack: (id) => `/tanks/racks/${id}`,
  'rate-card': (id) => `/rates/${id}`,
  'exchange-rate': () => '/rates/exchange',
  recipe: (id) => `/recipes/${id}`,
  enquiry: (id) => `/enquiries/${id}`,
  quotation: (id) => `/quotations/${id}`,
  order: (id) => `/orders/${id}`,
  lot: (id) => `/lots/${id}`,
  invoice: (id) => `/invoices/${id}`,
  'delivery-note': (id) => `/deliveries/${id}`,
  nonconformance: (id) => `/nonconformances/${id}`,
  'impact-assessment': (id) => `/assessments/${id}`,
  certificate: (id) => `/certificates/${id}`,
  traveler: (id) => `/travelers/${id}`,
  chemical: (id) => `/lab/chemicals/${id}`,
  method: (id) => `/lab/methods/${id}`,
  instrument: (id) => `/lab/instruments/${id}`,
  titrant: () => '/lab/instruments',
  analysis: (id) => `/lab/analyses/${id}`,
  addition: (id) => `/lab/additions/${id}`,
  'trial-run': (id) => `/lab/trials/${id}`,
  calibration: (id) => `/calibrations/${id}`,
  'film-measurement': (id) => `/colour-bench/film/${id}`,
  'polarization-scan': (id) => `/colour-bench/protection/${id}`,
  'exposure-test': (id) => `/colour-bench/exposure/${id}`,
  coupons: (id) => `/lab/coupons/${id}`,
  'colour-standard': (id) => `/colour-standards/${id}`,
  shop: () => '/setup',
};

/**
 * The page of a record, null where it has none.
 *
 * @example
 * recordPath({ kind: 'lot', id: 12 }) // '/lots/12'
 */
export const recordPath = ({ kind, id }: { kind: RecordKind; id: number }): string | null =>
  pages[kind]?.(id) ?? null;

/** What a kind of record is called in a sentence. */
export const recordKindLabel = (kind: RecordKind): string =>
  kind === 'coupons' ? 'coupon series' : kind === 'shop' ? 'shop settings' : kind.replaceAll('-', ' ');
