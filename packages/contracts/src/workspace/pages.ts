import { z } from 'zod';
import { Id } from '../kernel/scalars.ts';

/** Records, and the tankside of a lot, that the web app has a page for. */
export const PageKind = z.enum([
  'addition',
  'analysis',
  'assessment',
  'stopToAssess',
  'calibrationToAssess',
  'analysisToAssess',
  'colourToAssess',
  'stepToAssess',
  'bath',
  'calibration',
  'certificate',
  'nonconformance',
  'shipmentToCertify',
  'deliveryNote',
  'invoice',
  'shipmentToDeliver',
  'chemical',
  'couponSeries',
  'colourStandard',
  'customer',
  'enquiry',
  'instrument',
  'exposureTest',
  'lot',
  'material',
  'order',
  'parkedSignOff',
  'part',
  'person',
  'quotation',
  'rack',
  'rateCard',
  'recipe',
  'supply',
  'tank',
  'tankside',
  'traveler',
]);
export type PageKind = z.output<typeof PageKind>;

/** A page by what it shows. Its address is made in the web app, which alone knows it. */
export const PageRef = z.object({ kind: PageKind, id: Id });
export type PageRef = z.output<typeof PageRef>;
