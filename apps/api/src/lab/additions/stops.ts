import { mixingDangers, waterDangers } from '@huelot/calc';
import { bathOnHand, type MixingStop, mixingStopWords, type Solute } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { type BathRow, readSetupsOf } from '../baths/index.ts';
import { type LotRow, readLot } from '../chemicals/index.ts';
import { readStrengthShare } from './stop-queries.ts';

interface PouredLine {
  action: string;
  lot: LotRow | null;
}

/** What is known of a bath that something goes into. */
export async function readBathOnHand(tx: Tx, bath: BathRow) {
  const solute: Solute | null = (await readSetupsOf(tx.execute, [bath.id])).get(bath.id)?.solute ?? null;
  const massFraction =
    solute === null ? null : await readStrengthShare(tx.execute, { bathId: bath.id, solute });
  return { ...bathOnHand({ contents: bath.contents, solute }), massFraction };
}

/** What speaks against lines going into a bath, one sentence each; `planned` are the chemicals of the plan, null for the plan itself. */
export function stopsOf(
  lines: readonly PouredLine[],
  { bath, planned }: { bath: Awaited<ReturnType<typeof readBathOnHand>>; planned: readonly number[] | null },
): string[] {
  const words = (name: string, stop: MixingStop) => `${name}: ${mixingStopWords[stop]}`;
  const sentences = lines.flatMap(({ action, lot }) => {
    if (action === 'add-water') return waterDangers(bath).map((stop) => words('water', stop));
    if (lot === null) return [];
    const stops: MixingStop[] = mixingDangers({ stock: lot, bath });
    if (planned !== null && !planned.includes(lot.chemicalId)) stops.push('not-planned');
    return stops.map((stop) => words(`${lot.chemicalCode} ${lot.chemicalName}`, stop));
  });
  return [...new Set(sentences)];
}

/** The chemicals that the steps of a plan take. */
export async function plannedChemicals(
  tx: Tx,
  steps: readonly { chemicalLotId: number | null }[],
): Promise<number[]> {
  const lots = await Promise.all(
    steps.flatMap(({ chemicalLotId }) =>
      chemicalLotId === null ? [] : [readLot(tx.execute, chemicalLotId)],
    ),
  );
  return lots.flatMap((lot) => lot?.chemicalId ?? []);
}
