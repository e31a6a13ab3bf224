import { z } from 'zod';
import { CustomerRef } from '../catalog/customers.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import {
  Count,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Pdf,
  SystemOfUnits,
  Text,
} from '../kernel/scalars.ts';
import { GoodsReturn } from './returns.ts';

const ShippedCount = z.int().min(1).max(1_000_000);

/** A carton, crate or bag of one shipment; weighed or not. */
const packageFields = {
  kind: Line(60),
  quantity: ShippedCount,
  netKg: z.number().positive().max(100_000).nullable(),
  grossKg: z.number().positive().max(100_000).nullable(),
};
const NewPackage = z.strictObject({ shipmentId: Id, ...packageFields });

/** One shipment on a delivery note, as it was then. */
export const DeliveredShipment = z.object({
  id: Id,
  number: z.string(),
  lot: z.object({ id: Id, number: z.string() }),
  quantity: Count,
  carrier: z.string(),
  document: z.string(),
  shippedAt: Instant,
  /** Certificates of conformance that stood then and travel with it. */
  certificates: z.array(z.string()),
});
const DeliveredLine = z.object({
  orderLineId: Id,
  line: z.int(),
  part: z.object({ number: z.string(), revision: z.string(), description: z.string() }),
  ordered: Count,
  shippedBefore: Count,
  delivered: Count,
  rejected: Count,
  stillToCome: Count,
  shipments: z.array(DeliveredShipment),
});

/** What a delivery note says, all of it as it stood when it was issued. */
export const DeliveryFacts = z
  .object({
    shop: z.object({
      name: z.string(),
      address: z.string(),
      contact: z.string(),
      timeZone: z.string(),
      units: SystemOfUnits,
    }),
    customer: z.object({ number: z.string(), name: z.string() }),
    address: z.string(),
    carrier: z.string(),
    document: z.string(),
    notes: z.string(),
    orders: z.array(
      z.object({
        id: Id,
        number: z.string(),
        customerOrderNumber: z.string(),
        lines: z.array(DeliveredLine),
      }),
    ),
    packages: z.array(
      z.object({
        shipment: z.string(),
        lot: z.string(),
        part: z.string(),
        ...packageFields,
        kind: z.string(),
      }),
    ),
  })
  .meta({ id: 'DeliveryFacts' });
export type DeliveryFacts = z.output<typeof DeliveryFacts>;

/** Stands; or withdrawn, and its shipments wait for another. */
export const DeliveryNoteState = z.enum(['stands', 'withdrawn']);
export type DeliveryNoteState = z.output<typeof DeliveryNoteState>;

const Head = z.object({
  id: Id,
  number: z.string(),
  state: DeliveryNoteState,
  customerId: Id,
  customer: z.string(),
  orders: z.string(),
  pieces: Count,
  packages: Count,
  /** Pieces that came back. */
  returned: Count,
  shipments: z.array(z.object({ id: Id, number: z.string(), lotId: Id })),
  issuedBy: z.string(),
  issuedAt: Instant,
});
export const DeliveryNoteItem = Head.meta({ id: 'DeliveryNoteItem' });
export type DeliveryNoteItem = z.output<typeof DeliveryNoteItem>;
export const DeliveryNote = Head.extend({
  facts: DeliveryFacts,
  withdrawn: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
  returns: z.array(GoodsReturn),
  /** Of the file, in hexadecimal. */
  sha256: z.string(),
}).meta({ id: 'DeliveryNote' });
export type DeliveryNote = z.output<typeof DeliveryNote>;

/** Shipments of one customer that no delivery note covers. */
export const DeliverySheet = z
  .object({
    customer: CustomerRef,
    /** Where goods go, the first choice first. */
    addresses: z.array(z.string()),
    shipments: z.array(
      z.object({
        id: Id,
        number: z.string(),
        lot: z.object({ id: Id, number: z.string(), held: z.boolean() }),
        order: z.object({ id: Id, number: z.string(), line: z.int(), customerOrderNumber: z.string() }),
        part: z.string(),
        quantity: Count,
        carrier: z.string(),
        document: z.string(),
        shippedAt: Instant,
        /** It was promised a certificate, and none stands yet. */
        certificateDue: z.boolean(),
      }),
    ),
  })
  .meta({ id: 'DeliverySheet' });
export type DeliverySheet = z.output<typeof DeliverySheet>;

export const getDeliverySheet = defineQuery({
  name: 'getDeliverySheet',
  tags: ['billing'],
  path: '/shipments/:id/delivery-sheet',
  access: 'shipping.write',
  summary: 'The shipments of the customer of one that no delivery note covers yet',
  params: { id: PathId },
  reply: DeliverySheet,
});
export const issueDeliveryNote = defineCommand({
  name: 'issueDeliveryNote',
  tags: ['billing'],
  path: '/delivery-notes',
  access: 'shipping.write',
  summary: 'Gather shipments of one customer into a numbered delivery note and keep its paper',
  body: z.strictObject({
    shipmentIds: z.array(Id).min(1, 'needs at least one shipment').max(200),
    address: Line(600),
    carrier: Text(200),
    document: Text(200),
    notes: Text(2000),
    /** What every piece is packed in. */
    packages: z.array(NewPackage).min(1, 'needs at least one package').max(500),
  }),
  reply: DeliveryNote,
  status: 201,
});
export const withdrawDeliveryNote = defineCommand({
  name: 'withdrawDeliveryNote',
  tags: ['billing'],
  path: '/delivery-notes/:id/withdrawal',
  access: 'shipping.write',
  summary: 'Withdraw a delivery note: its shipments wait for another',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: DeliveryNote,
});
export const listDeliveryNotes = defineQuery({
  name: 'listDeliveryNotes',
  tags: ['billing'],
  path: '/delivery-notes',
  access: 'orders.read',
  summary: 'Delivery notes, the newest first',
  query: {
    ...listQuery,
    state: DeliveryNoteState.optional(),
    lotId: PathId.optional(),
    orderId: PathId.optional(),
  },
  reply: page(DeliveryNoteItem),
});
export const getDeliveryNote = defineQuery({
  name: 'getDeliveryNote',
  tags: ['billing'],
  path: '/delivery-notes/:id',
  access: 'orders.read',
  summary: 'A delivery note as it was issued, and what came back of it',
  params: { id: PathId },
  reply: DeliveryNote,
});
export const printDeliveryNote = defineQuery({
  name: 'printDeliveryNote',
  tags: ['billing'],
  path: '/delivery-notes/:id/pdf',
  access: 'orders.read',
  summary: 'A delivery note as a PDF: the same bytes for ever',
  params: { id: PathId },
  reply: Pdf,
});
/** A side of a label, in millimetres. */
export const LabelSide = z.coerce.number().min(30).max(300);
export const printDeliveryLabels = defineQuery({
  name: 'printDeliveryLabels',
  tags: ['billing'],
  path: '/delivery-notes/:id/labels',
  access: 'orders.read',
  summary: 'A label for each package, a page each, of any size; its code leads to the lot',
  params: { id: PathId },
  query: { widthMm: LabelSide, heightMm: LabelSide },
  reply: Pdf,
});
