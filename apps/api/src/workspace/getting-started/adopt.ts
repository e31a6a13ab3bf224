import type { adoptStarterSet, StarterSetKey } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../shared/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { fieldError, DomainError } from '../../shared/refusal.ts';
import { addChemical } from '../../lab/chemicals/index.ts';
import { addMaterial, startingLibrary } from '../../catalog/materials/index.ts';
import { putInForce } from '../../catalog/rates/index.ts';
import { addRecipe } from '../../catalog/recipes/index.ts';
import { addRack, addSupply } from '../../catalog/equipment/index.ts';
import { addTank } from '../../lab/tanks/index.ts';
import { holdAdopting, readTanksOf } from './queries.ts';
import { materialKey, readStarterSet } from './sets.ts';
import { starterChemicals } from './starter/chemicals.ts';
import { starterRacks, starterSupplies } from './starter/equipment.ts';
import { exampleRates, exampleRatesNote } from './starter/rates.ts';
import { starterRecipes } from './starter/recipes.ts';
import { starterTanks } from './starter/tanks.ts';

type Adopted = z.output<typeof adoptStarterSet.reply>;
interface Asked {
  actor: Actor;
  key: string;
}

const factsOf = <Facts>(rows: readonly { key: string; facts: Facts }[], key: string): Facts => {
  const row = rows.find((one) => one.key === key);
  if (row === undefined) throw new Error(`no starter ${key}`);
  return row.facts;
};

/** How one row of each set becomes a record: by the command that a person uses, so with its checks and its history. */
const adopters: Record<StarterSetKey, (tx: Tx, filter: Asked) => Promise<string>> = {
  materials: async (tx, { actor, key }) => {
    const facts = factsOf(
      startingLibrary.map((one) => ({ key: materialKey(one), facts: one })),
      key,
    );
    return `/materials/${(await addMaterial(tx, { actor, facts })).id}`;
  },
  tanks: async (tx, { actor, key }) =>
    `/tanks/${(await addTank(tx, { actor, input: factsOf(starterTanks, key) })).id}`,
  supplies: async (tx, { actor, key }) => {
    const { contents, ...facts } = factsOf(starterSupplies, key);
    const tankIds = (await readTanksOf(tx.execute, contents)).map(({ id }) => id);
    return `/tanks/supplies/${(await addSupply(tx, { actor, input: { ...facts, tankIds } })).id}`;
  },
  racks: async (tx, { actor, key }) =>
    `/tanks/racks/${(await addRack(tx, { actor, input: factsOf(starterRacks, key) })).id}`,
  rates: async (tx, { actor }) => {
    await putInForce(tx, { actor, input: { fromRevision: 0, note: exampleRatesNote, rates: exampleRates } });
    return '/rates';
  },
  recipes: async (tx, { actor, key }) => {
    const { recipe } = await addRecipe(tx, { actor, input: factsOf(starterRecipes, key) });
    return `/recipes/${recipe.id}`;
  },
  chemicals: async (tx, { actor, key }) =>
    `/lab/chemicals/${(await addChemical(tx, { actor, input: factsOf(starterChemicals, key) })).id}`,
};

/**
 * Creates the chosen rows of a starter set, all or none. What has its code or name already is left as it is, so that a
 * second time changes nothing.
 */
export const adopt = (
  db: Db,
  { actor, set, keys }: { actor: Actor; set: StarterSetKey; keys: readonly string[] },
): Promise<Adopted> =>
  inTransaction(db, async (tx) => {
    if (!(await holdAdopting(tx.execute)))
      throw new DomainError('conflict', 'Starter sets are being taken over at this moment: look again.');
    const { rows } = await readStarterSet(tx.execute, set);
    const chosen = keys.map((key, index) => {
      const row = rows.find((one) => one.key === key);
      if (row === undefined) throw fieldError(`keys.${index}`, `${key} is not in this set`);
      return row;
    });
    const adopted: Adopted = { added: [], kept: [] };
    for (const { key, name, there } of new Set(chosen)) {
      if (there !== null) adopted.kept.push({ key, ...there });
      else adopted.added.push({ key, name, href: await adopters[set](tx, { actor, key }) });
    }
    return adopted;
  });
