import { createTitrant, type TitrantReagent } from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { addChemical, receiveLot } from '../lab/chemicals/index.ts';
import { addInstrument } from '../lab/instruments/index.ts';
import { readMethods, addTitrant } from '../lab/methods/index.ts';
import type { Timeline } from './backdate.ts';
import { shelf } from './lab-book.ts';
import type { Actors } from './people.ts';
import { keepSafetySheet } from './safety-sheet.ts';

const dayOf = (index: number) => new Date(index).toISOString().slice(0, 10);
const YEAR = 365 * 86_400_000;

/** Fills the shelf of the lab: chemicals with a lot each, two titrants, two instruments. */
export async function seedChemicals(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Timeline; since: number },
) {
  const actor = actors.lena;
  return story.at(since, async () => {
    const lots = new Map<keyof typeof shelf, number>();
    for (const [key, { facts, receipts }] of Object.entries(shelf)) {
      const sdsFileId =
        facts.hazards.length === 0
          ? null
          : await keepSafetySheet(db, {
              actor,
              chemical: facts.name,
              supplier: facts.supplier,
              madeAt: new Date(since),
            });
      const input = { ...facts, hazards: [...facts.hazards], sdsFileId };
      const { id } = await addChemical(db, { actor, input });
      for (const receipt of receipts) {
        const lot = await receiveLot(db, {
          actor,
          chemicalId: id,
          input: {
            ...receipt,
            receivedAt: new Date(since).toISOString(),
            assayMassFraction: facts.assayMassFraction,
            densityKgPerM3: null,
            expiresOn: dayOf(since + YEAR),
            quarantined: false,
            notes: '',
          },
        });
        if (!lots.has(key as keyof typeof shelf)) lots.set(key as keyof typeof shelf, lot.id);
      }
    }
    const titrant = async (reagent: TitrantReagent, label: string, eqPerLitre: number) => {
      const input = createTitrant.body.parse({
        ...{ reagent, label, eqPerLitre, notes: '' },
        expiresOn: dayOf(since + YEAR / 2),
        standardUncertaintyEqPerLitre: eqPerLitre / 1000,
        standardisedOn: dayOf(since),
      });
      return (await addTitrant(db, { actor, input })).id;
    };
    const instrument = async (
      code: string,
      name: string,
      kind: 'burette' | 'ph-meter' | 'conductivity-meter' | 'hydrometer',
    ) => {
      const input = { code, name, kind, serial: '', calibrationDueOn: dayOf(since + YEAR), notes: '' };
      return (await addInstrument(db, { actor, input })).id;
    };
    const methods = await readMethods(db.execute, { status: 'in-force', after: null, limit: 100 });
    return {
      lots,
      acidTitrantId: await titrant('HCl', 'HCl 0.5, bottle 14', 0.4992),
      weakAcidTitrantId: await titrant('HCl', 'HCl 0.1, bottle 9', 0.1003),
      baseTitrantId: await titrant('NaOH', 'NaOH 1.0, bottle 22', 1.002),
      buretteId: await instrument('BUR-1', 'Burette 50 mL', 'burette'),
      meterId: await instrument('PH-1', 'pH meter', 'ph-meter'),
      conductivityMeterId: await instrument('COND-1', 'Conductivity meter', 'conductivity-meter'),
      floatId: await instrument('HYD-1', 'Hydrometer 1.40 to 1.60', 'hydrometer'),
      methodIds: new Map(methods.map(({ code, id }) => [code, id])),
    };
  });
}
export type Shelf = Awaited<ReturnType<typeof seedChemicals>>;
