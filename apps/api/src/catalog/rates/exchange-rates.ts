import type { createExchangeRate, ExchangeRate } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { orNotFound, fieldError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as queries from './exchange-queries.ts';

/** Writes down a rate of exchange; a slip is put right by a newer one, not by an edit. */
export function addExchangeRate(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof createExchangeRate.body> },
): Promise<ExchangeRate> {
  return inTransaction(db, async (tx) => {
    const shop = await queries.readShopMoney(tx.execute);
    if (input.currency === shop.currency)
      throw fieldError('currency', `is the shop’s own currency; a rate is from ${shop.currency} to another`);
    if (input.day > shop.day) throw fieldError('day', `must not be after today, ${shop.day}`);
    const { id } = await queries.addExchangeRate(tx, {
      ...input,
      baseCurrency: shop.currency,
      day: new Date(input.day),
      createdById: actor.personId,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'exchange-rate',
      id,
      number: `${shop.currency}/${input.currency}`,
      action: `wrote down 1 ${shop.currency} = ${input.rate} ${input.currency} of ${input.day}, ${input.source}`,
    });
    return orNotFound(await queries.readExchangeRate(tx.execute, id), `exchange rate ${id}`);
  });
}
