import type { Addition, ChemicalLot } from '@huelot/contracts';
import { expect, test } from 'vitest';
import * as lab from '../support/lab.ts';
import { mainLine, ok } from '../support/main-line.ts';

const inYen = await mainLine({ currency: 'JPY' });
const inDinars = await mainLine({ currency: 'KWD' });

test.each([
  { currency: 'JPY', shop: inYen, pricePerKg: '1237', digits: 0 },
  { currency: 'KWD', shop: inDinars, pricePerKg: '1.237', digits: 3 },
])(
  'what an addition cost was kept with two decimals, in $currency too',
  async ({ shop, pricePerKg, digits }) => {
    const { db, as } = shop;
    const [lena, omar, owner] = [await as('lab'), await as('operator'), await as('owner')];
    await lab.givePin(db, [omar.personId], '4711');
    const equipped = await lab.equipLab(lena);
    equipped.lot = await lab.post<ChemicalLot>(owner, `/api/chemicals/${equipped.chemical.id}/lots`, {
      ...{
        supplierLot: 'P-1',
        receivedAt: new Date().toISOString(),
        quantityKg: 100,
        assayMassFraction: 0.9,
      },
      ...{ densityKgPerM3: null, expiresOn: null, quarantined: false, notes: '', pricePerKg },
    });
    const planned = await lab.plan(lena, equipped);
    const checker = { personId: omar.personId, pin: '4711' };
    await lab.post(lena, `/api/additions/${planned.id}/complete`, lab.asPlanned(planned, { checker }));
    const { done } = await ok<Addition>(owner({ url: `/api/additions/${planned.id}` }));
    const line = done?.lines.find(({ cost }) => cost !== null);
    expect(line?.cost).toBe((Number(pricePerKg) * (line?.kg ?? 0)).toFixed(digits));
    expect(done?.cost).toBe(line?.cost);
  },
);
