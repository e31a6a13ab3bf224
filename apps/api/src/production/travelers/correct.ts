import { type correctReading, stepQuantities, type Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db } from '../../db/client.ts';
import { orNotFound, fieldError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';
import { holdLot, inUnitOf } from './sign.ts';
import * as signing from './sign-queries.ts';

/**
 * Appends a correction beside a signed reading. The reading stands as it was signed; searches and certificates use
 * the correction. A corrected figure outside its limits puts the lot on hold like any other.
 */
export function correctReadings(
  db: Db,
  {
    actor,
    signOffId,
    input,
  }: { actor: Actor; signOffId: number; input: z.output<typeof correctReading.body> },
): Promise<Traveler> {
  return withSqlTransaction(db, async (execute) => {
    const reading = orNotFound(
      await signing.lockReading(execute, { signOffId, quantity: input.quantity }),
      `sign-off ${signOffId}`,
    );
    if (reading.value === input.newValue) throw fieldError('newValue', 'is what stands there already');
    await signing.addCorrection(execute, {
      signOffId,
      quantity: input.quantity,
      oldValue: reading.value,
      newValue: input.newValue,
      reason: input.reason,
      correctedById: actor.personId,
    });
    const { low, high, value } = reading;
    const outside = (low !== null && input.newValue < low) || (high !== null && input.newValue > high);
    if (outside) {
      const { label } = stepQuantities[input.quantity];
      const inUnit = (figure: number | null) => inUnitOf(input.quantity, figure);
      await holdLot(execute, {
        ...{ signer: actor, lotId: reading.lotId, lotNumber: reading.lotNumber, signOffId },
        why: `Step ${reading.position}, ${reading.title}: ${label} corrected to ${inUnit(input.newValue)}, outside ${inUnit(low)} to ${inUnit(high)}. ${input.reason}`,
      });
    }
    await writeAudit(execute, actor, {
      kind: 'lot',
      id: reading.lotId,
      number: reading.lotNumber,
      action: `corrected step ${reading.position}, ${reading.title}`,
      changes: [{ field: input.quantity, old: value, new: input.newValue }],
      reason: input.reason,
    });
    return orNotFound(
      await queries.readTraveler(execute, reading.travelerId),
      `traveler ${reading.travelerId}`,
    );
  });
}
