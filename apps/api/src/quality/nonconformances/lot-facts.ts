import type { LotFacts, Traveler } from '@huelot/contracts';
import type { Queryable } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { analysesAround } from '../../lab/analyses/index.ts';
import { readLot } from '../../production/lots/index.ts';
import { readTravelersOfLot } from '../../production/travelers/index.ts';

/** Everything the record says of how a lot was made: nobody types it, and it is frozen with the nonconformance. */
export async function readLotFacts(
  { execute }: Pick<Queryable, 'execute'>,
  lotId: number,
): Promise<LotFacts> {
  const lot = orNotFound(await readLot(execute, lotId), `lot ${lotId}`);
  const travelers = (await readTravelersOfLot(execute, lotId)).filter(
    ({ status }) => status !== 'superseded',
  );
  const last = travelers.at(-1);
  const signed = travelers.flatMap(({ steps }) =>
    steps.flatMap(({ signOff }) => (signOff === null ? [] : [signOff.id])),
  );
  const around = new Map(
    (await analysesAround(execute, [...new Set(signed)])).map(({ signOffId, before }) => [signOffId, before]),
  );
  return {
    lot: { id: lot.id, number: lot.number, quantity: lot.quantity },
    customer: { number: lot.customer.number, name: lot.customer.name },
    part: `${lot.part.number} rev ${lot.part.revision}, ${lot.part.description}`,
    material: [last?.head.material.name, last?.head.material.condition].filter(Boolean).join(', '),
    recipe: `${lot.recipe.number} ${lot.recipe.name}, revision ${lot.recipe.revision}`,
    traveler: travelers.map(({ number, revision }) => `${number} revision ${revision}`).join(', '),
    rack: lot.rack === null ? '' : `${lot.rack.code} ${lot.rack.name}`,
    supply: lot.supply === null ? '' : `${lot.supply.code} ${lot.supply.name}`,
    steps: travelers.flatMap(({ steps }) => steps.flatMap((step) => signedStep(step, around))),
  };
}

type Step = Traveler['steps'][number];
type Around = ReadonlyMap<number, LotFacts['steps'][number]['analysis']>;

function signedStep({ position, kind, title, signOff }: Step, around: Around): LotFacts['steps'] {
  if (signOff === null) return [];
  const { doneAt, person, tank, bath, bathState, outside, reason, readings, corrections } = signOff;
  return [
    {
      ...{ position, kind, title, doneAt, person, bath, bathState, outside, reason },
      tank: tank?.code ?? '',
      readings: readings.map(({ quantity, value, low, high, outside: isOutside, instrument }) => ({
        ...{ quantity, low, high, instrument, outside: isOutside },
        value: corrections.findLast((one) => one.quantity === quantity)?.newValue ?? value,
      })),
      analysis: around.get(signOff.id) ?? null,
    },
  ];
}
