import { z } from 'zod';
import { defineCommand } from '../kernel/http.ts';
import { Count, Day, Id, Instant, Line, PathId, Text } from '../kernel/scalars.ts';

/** Goods that came back against a delivery. */
export const GoodsReturn = z
  .object({
    id: Id,
    shipment: z.object({ id: Id, number: z.string() }),
    lot: z.object({ id: Id, number: z.string() }),
    quantity: Count,
    returnedOn: Day,
    reason: z.string(),
    notes: z.string(),
    recordedBy: z.string(),
    recordedAt: Instant,
    withdrawn: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
  })
  .meta({ id: 'GoodsReturn' });
export type GoodsReturn = z.output<typeof GoodsReturn>;

/** A return belongs to a delivery: both replies are the return with the others of its note. */
const Returns = z.object({ items: z.array(GoodsReturn) });

export const recordReturn = defineCommand({
  name: 'recordReturn',
  tags: ['billing'],
  path: '/delivery-notes/:id/returns',
  access: 'shipping.write',
  summary: 'Record pieces of a delivery that came back',
  params: { id: PathId },
  body: z.strictObject({
    shipmentId: Id,
    quantity: z.int().min(1).max(1_000_000),
    returnedOn: Day,
    reason: Line(500),
    notes: Text(2000),
  }),
  reply: Returns,
  status: 201,
});
export const withdrawReturn = defineCommand({
  name: 'withdrawReturn',
  tags: ['billing'],
  path: '/returns/:id/withdrawal',
  access: 'shipping.write',
  summary: 'Take back a return that was recorded by mistake',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Returns,
});
