import type { correctReading, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inSqlTransaction, type Db } from '../../db/client.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { found, invalid } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import * as queries from './queries.ts';
import * as signing from './sign-queries.ts';

/**
 * Appends a correction beside a signed reading. The reading stands as it was signed; searches and certificates use
 * the correction. A corrected figure outside its limits puts the lot on hold like any other.
 */
export function correct(
  db: Db,
  of: { actor: Actor; signOffId: number; input: z.output<typeof correctReading.body>; once: OnceKey | null },
): Promise<Traveler> {
  const { actor, signOffId, input, once } = of;
  return inSqlTransaction(db, (run) =>
    answerOnce({ run, personId: actor.personId, once }, async () => {
      const reading = found(
        await signing.lockReading(run, { signOffId, quantity: input.quantity }),
        `sign-off ${signOffId}`,
      );
      if (reading.value === input.newValue) throw invalid('newValue', 'is what stands there already');
      await signing.addCorrection(run, {
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
        await signing.addHold(run, {
          lotId: reading.lotId,
          signOffId,
          placedById: actor.personId,
          reason: `Step ${reading.position}, ${reading.title}: ${input.quantity} corrected to ${input.newValue}, outside ${low ?? '…'} to ${high ?? '…'}. ${input.reason}`,
        });
      }
      await record(run, actor, {
        kind: 'lot',
        id: reading.lotId,
        number: reading.lotNumber,
        action: `corrected step ${reading.position}, ${reading.title}`,
        changes: [{ field: input.quantity, old: value, new: input.newValue }],
        reason: input.reason,
      });
      return found(await queries.readTraveler(run, reading.travelerId), `traveler ${reading.travelerId}`);
    }),
  );
}
