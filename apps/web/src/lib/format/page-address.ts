import type { PageKind, PageRef } from '@huelot/contracts';

const addresses: Record<PageKind, (id: number) => string> = {
  addition: (id) => `/lab/additions/${id}`,
  analysis: (id) => `/lab/analyses/${id}`,
  assessment: (id) => `/assessments/${id}`,
  stopToAssess: (id) => `/assessments/new?cause=bath-stop-${id}`,
  calibrationToAssess: (id) => `/assessments/new?cause=calibration-failed-${id}`,
  analysisToAssess: (id) => `/assessments/new?cause=analysis-corrected-${id}`,
  colourToAssess: (id) => `/assessments/new?cause=colour-corrected-${id}`,
  stepToAssess: (id) => `/assessments/new?cause=step-corrected-${id}`,
  bath: (id) => `/lab/baths/${id}`,
  calibration: (id) => `/calibrations/${id}`,
  chemical: (id) => `/lab/chemicals/${id}`,
  couponSeries: (id) => `/lab/coupons/${id}`,
  colourStandard: (id) => `/colour-standards/${id}`,
  customer: (id) => `/customers/${id}`,
  enquiry: (id) => `/enquiries/${id}`,
  exposureTest: (id) => `/colour-bench/exposure/${id}`,
  lot: (id) => `/lots/${id}`,
  material: (id) => `/materials/${id}`,
  order: (id) => `/orders/${id}`,
  nonconformance: (id) => `/nonconformances/${id}`,
  certificate: (id) => `/certificates/${id}`,
  invoice: (id) => `/invoices/${id}`,
  deliveryNote: (id) => `/deliveries/${id}`,
  shipmentToDeliver: (id) => `/deliveries/new?shipment=${id}`,
  shipmentToCertify: (id) => `/certificates/new?shipment=${id}`,
  instrument: (id) => `/lab/instruments/${id}`,
  parkedSignOff: () => '/lots/parked',
  part: (id) => `/parts/${id}`,
  person: (id) => `/people/${id}`,
  quotation: (id) => `/quotations/${id}`,
  rack: (id) => `/tanks/racks/${id}`,
  rateCard: (id) => `/rates/${id}`,
  recipe: (id) => `/recipes/${id}`,
  supply: (id) => `/tanks/supplies/${id}`,
  tank: (id) => `/tanks/${id}`,
  tankside: (id) => `/tankside/${id}`,
  traveler: (id) => `/travelers/${id}`,
};

/**
 * The address of the page that shows a record.
 *
 * @example
 * pageAddress({ kind: 'lot', id: 93 }); // '/lots/93'
 */
export const pageAddress = ({ kind, id }: PageRef): string => addresses[kind](id);
