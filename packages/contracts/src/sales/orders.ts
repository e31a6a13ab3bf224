import { z } from 'zod';
import { CustomerRef } from '../catalog/customers.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { PartRef } from '../catalog/parts.ts';
import {
  Count,
  Csv,
  Day,
  Id,
  Instant,
  Line,
  Money,
  PathId,
  Price,
  Text,
  Version,
  listQuery,
  page,
} from '../kernel/scalars.ts';

export const OrderStatus = z.enum(['open', 'complete', 'cancelled']);

const PieceCount = z.int().min(1, 'must be at least 1').max(1_000_000);

/** Where an order line stands, in pieces. */
export const LineProgress = z.object({
  inLots: Count,
  accepted: Count,
  rejected: Count,
  shipped: Count,
  /** Ordered, received and not yet in any lot. */
  toRelease: Count,
});

export const RecipeRef = z.object({
  recipeId: Id,
  revisionId: Id,
  number: z.string(),
  name: z.string(),
  revision: z.int(),
  status: z.string(),
  /** Approved by one of its writers, because nobody else may approve. */
  selfApproved: z.boolean(),
});

/** A delivery as it was counted at the door, or a correction of the count. */
export const OrderReceipt = z.object({
  id: Id,
  kind: z.enum(['delivery', 'correction']),
  /** What it adds to the count; a correction may take pieces off. */
  count: z.int(),
  /** What the line has received after it. */
  total: Count,
  reason: z.string(),
  receivedBy: z.string(),
  receivedAt: Instant,
});
export type OrderReceipt = z.output<typeof OrderReceipt>;

export const OrderLine = z
  .object({
    id: Id,
    position: z.int(),
    part: PartRef,
    recipe: RecipeRef,
    rackId: Id.nullable(),
    supplyId: Id.nullable(),
    quantity: Count,
    unitPrice: Money,
    totalPrice: Money,
    dueDate: Day,
    receivedCount: Count.nullable(),
    receivedAt: Instant.nullable(),
    /** In the order they were booked. */
    receipts: z.array(OrderReceipt),
    certificate: z.boolean(),
    inspectionLevel: z.string(),
    notes: z.string(),
    cancelled: z.boolean(),
    progress: LineProgress,
    version: Version,
  })
  .meta({ id: 'OrderLine' });
export type OrderLine = z.output<typeof OrderLine>;

export const Order = z
  .object({
    id: Id,
    number: z.string(),
    customer: CustomerRef,
    quotation: z.object({ id: Id, number: z.string(), revision: z.int() }).nullable(),
    customerOrderNumber: z.string(),
    status: OrderStatus,
    currency: z.string(),
    notes: z.string(),
    createdAt: Instant,
    createdBy: z.string(),
    lines: z.array(OrderLine),
    version: Version,
  })
  .meta({ id: 'Order' });
export type Order = z.output<typeof Order>;

export const OrderSummary = z.object({
  id: Id,
  number: z.string(),
  customer: CustomerRef,
  customerOrderNumber: z.string(),
  status: OrderStatus,
  lineCount: Count,
  pieces: Count,
  shipped: Count,
  dueDate: Day.nullable(),
  total: Money,
  currency: z.string(),
  createdAt: Instant,
});

const orderFilters = {
  search: listQuery.search,
  status: OrderStatus.optional(),
  customerId: PathId.optional(),
  sort: z.enum(['createdAt', '-createdAt', 'due', '-due']).optional(),
};
export const listOrders = defineQuery({
  name: 'listOrders',
  tags: ['sales'],
  path: '/orders',
  access: 'orders.read',
  summary: 'Orders, the newest first unless asked otherwise',
  query: { ...listQuery, ...orderFilters },
  reply: page(OrderSummary),
});
export const exportOrders = defineQuery({
  name: 'exportOrders',
  tags: ['sales'],
  path: '/orders.csv',
  access: 'orders.read',
  summary: 'The list of orders as CSV',
  query: orderFilters,
  reply: Csv,
});
export const getOrder = defineQuery({
  name: 'getOrder',
  tags: ['sales'],
  path: '/orders/:id',
  access: 'orders.read',
  summary: 'One order with its lines and where they stand',
  params: { id: PathId },
  reply: Order,
});

const NewOrderLine = z.strictObject({
  partId: Id,
  recipeRevisionId: Id,
  rackId: Id.nullable(),
  supplyId: Id.nullable(),
  quantity: PieceCount,
  totalPrice: Price,
  dueDate: Day,
  certificate: z.boolean(),
  inspectionLevel: Text(100),
  notes: Text(),
});
export const createOrder = defineCommand({
  name: 'createOrder',
  tags: ['sales'],
  path: '/orders',
  access: 'orders.write',
  summary: 'Enter an order that came without a quotation',
  body: z.strictObject({
    customerId: Id,
    customerOrderNumber: Text(100),
    notes: Text(),
    lines: z.array(NewOrderLine).min(1, 'needs at least one line').max(100),
  }),
  reply: Order,
  status: 201,
});

/** Accepting a sent quotation makes its order in one step: for each line, which of its breaks was ordered. */
export const acceptQuotation = defineCommand({
  name: 'acceptQuotation',
  tags: ['sales'],
  path: '/quotations/:id/accept',
  access: 'orders.write',
  summary: 'Accept the sent revision of a quotation and make the order',
  params: { id: PathId },
  body: z.strictObject({
    customerOrderNumber: Line(100),
    dueDate: Day,
    lines: z
      .array(z.strictObject({ lineId: Id, breakId: Id }))
      .min(1, 'needs at least one line')
      .max(100),
  }),
  reply: Order,
  status: 201,
});

export const updateOrder = defineCommand({
  name: 'updateOrder',
  tags: ['sales'],
  method: 'PUT',
  path: '/orders/:id',
  access: 'orders.write',
  summary: "Change the customer's order number or the notes",
  params: { id: PathId },
  body: z.strictObject({ customerOrderNumber: Text(100), notes: Text() }),
  reply: Order,
  versioned: true,
});
export const updateOrderLine = defineCommand({
  name: 'updateOrderLine',
  tags: ['sales'],
  method: 'PUT',
  path: '/order-lines/:id',
  access: 'orders.write',
  summary: 'Change a line; travelers it touches are superseded by new revisions',
  params: { id: PathId },
  body: z.strictObject({
    quantity: PieceCount,
    totalPrice: Price,
    dueDate: Day,
    recipeRevisionId: Id,
    notes: Text(),
    reason: Line(500),
  }),
  reply: Order,
  versioned: true,
});
export const receivePieces = defineCommand({
  name: 'receivePieces',
  tags: ['sales'],
  path: '/order-lines/:id/receipt',
  access: 'orders.write',
  summary: 'Record a further receipt of pieces',
  params: { id: PathId },
  body: z.strictObject({ count: Count, reason: Text(500) }),
  reply: Order,
  versioned: true,
});
export const correctReceivedCount = defineCommand({
  name: 'correctReceivedCount',
  tags: ['sales'],
  method: 'PUT',
  path: '/order-lines/:id/receipt',
  access: 'orders.write',
  summary: 'Correct how many pieces came in, all receipts of a line together',
  params: { id: PathId },
  body: z.strictObject({ count: Count, reason: Line(500) }),
  reply: Order,
  versioned: true,
});
export const cancelOrderLine = defineCommand({
  name: 'cancelOrderLine',
  tags: ['sales'],
  path: '/order-lines/:id/cancel',
  access: 'orders.write',
  summary: 'Cancel a line that has no lot under way',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Order,
  versioned: true,
});
export const cancelOrder = defineCommand({
  name: 'cancelOrder',
  tags: ['sales'],
  path: '/orders/:id/cancel',
  access: 'orders.write',
  summary: 'Cancel an order that has no lot under way',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Order,
  versioned: true,
});
