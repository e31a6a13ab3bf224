import {
  getLot,
  getLotColour,
  getLotEvidence,
  listAssessments,
  getLotInspection,
  listCertificates,
  listDeliveryNotes,
  listHistory,
  listInvoices,
  listNonconformances,
  may,
} from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const { me } = await parent();
  const id = idOf(params.id);
  const [
    lot,
    evidence,
    history,
    colour,
    certificates,
    deliveries,
    nonconformances,
    assessments,
    invoices,
    inspection,
  ] = await Promise.all([
    reading(api(getLot, { params: { id } })),
    reading(api(getLotEvidence, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'lot', id } })),
    reading(api(getLotColour, { params: { id } })),
    may(me.person.roles, 'orders.read') ? reading(api(listCertificates, { query: { lotId: id } })) : null,
    may(me.person.roles, 'orders.read') ? reading(api(listDeliveryNotes, { query: { lotId: id } })) : null,
    reading(api(listNonconformances, { query: { lotId: id } })),
    may(me.person.roles, 'trace.read') ? reading(api(listAssessments, { query: { lotId: id } })) : null,
    may(me.person.roles, 'invoices.read') ? reading(api(listInvoices, { query: { lotId: id } })) : null,
    reading(api(getLotInspection, { params: { id } })),
  ]);
  return {
    lot,
    evidence,
    history,
    colour,
    certificates: certificates?.items ?? [],
    deliveries: deliveries?.items ?? [],
    nonconformances: nonconformances.items,
    assessments: assessments?.items ?? [],
    invoices: invoices?.items ?? [],
    inspection,
  };
};
