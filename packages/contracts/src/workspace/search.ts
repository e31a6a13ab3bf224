import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { Id, isStorable, unstorable } from '../kernel/scalars.ts';
import { PageRef } from './pages.ts';

/** Anything with a number or a name, found from the search box. */
export const FoundRecord = z.object({
  kind: z.enum([
    'customer',
    'part',
    'enquiry',
    'quotation',
    'order',
    'lot',
    'traveler',
    'recipe',
    'contact',
    'material',
    'supply',
    'rack',
    'tank',
    'bath',
    'shipment',
    'certificate',
    'deliveryNote',
    'invoice',
    'nonconformance',
    'assessment',
    'customerLetter',
    'analysis',
    'addition',
    'chemical',
    'couponSeries',
    'calibration',
    'colourStandard',
  ]),
  id: Id,
  number: z.string(),
  title: z.string(),
  /** What shows it: a contact stands on the page of the customer, a shipment on that of its lot. */
  page: PageRef,
});
export const searchNumbers = defineQuery({
  name: 'searchNumbers',
  tags: ['workspace'],
  path: '/search',
  access: 'signed-in',
  summary: 'Records whose number or name matches, among those the person may read',
  searches: true,
  query: {
    q: z.string().trim().min(1).max(300).refine(isStorable, unstorable),
  },
  reply: z.object({ items: z.array(FoundRecord) }),
});
