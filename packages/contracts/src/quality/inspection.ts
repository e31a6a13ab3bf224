import { z } from 'zod';
import { defineCommand } from '../kernel/http.ts';
import { Count, PathId, Text } from '../kernel/scalars.ts';
import { Lot } from '../production/lots.ts';

export const checkLot = defineCommand({
  name: 'checkLot',
  tags: ['quality'],
  path: '/lots/:id/final-check',
  access: 'inspection.write',
  summary: 'Accept, reject or rework the pieces that came off the last step',
  params: { id: PathId },
  body: z.strictObject({
    acceptedCount: Count,
    rejectedCount: Count,
    reworkCount: Count,
    reason: Text(500),
    notes: Text(2000),
  }),
  reply: Lot,
  status: 201,
  proof: 'signature',
});
export const shipLot = defineCommand({
  name: 'shipLot',
  tags: ['quality'],
  path: '/lots/:id/shipments',
  access: 'shipping.write',
  summary: 'Record accepted pieces as shipped',
  params: { id: PathId },
  body: z.strictObject({
    quantity: z.int().min(1).max(1_000_000),
    carrier: Text(200),
    document: Text(200),
    notes: Text(2000),
  }),
  reply: Lot,
  status: 201,
});
