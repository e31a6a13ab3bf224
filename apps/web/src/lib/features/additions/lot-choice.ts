import { mixingDangers } from '@huelot/calc';
import {
  bathOnHand,
  type ChemicalLot,
  type MixingStop,
  mixingStopWords,
  type Solute,
  type TankContents,
} from '@huelot/contracts';

interface Target {
  contents: TankContents;
  solute: Solute | null;
  /** Chemicals of the plan; null while it is being made. */
  planned: readonly number[] | null;
}

/** What speaks against a lot going into a bath, the gravest first. */
export function lotStops(
  lot: Pick<ChemicalLot, 'chemicalId' | 'solute' | 'hazards'>,
  { contents, solute, planned }: Target,
): MixingStop[] {
  const dangers = mixingDangers({ stock: lot, bath: bathOnHand({ contents, solute }) });
  return planned === null || planned.includes(lot.chemicalId) ? dangers : [...dangers, 'not-planned'];
}

/** The same in the sentences that the server asks with. */
export const stopSentences = (
  lot: Pick<ChemicalLot, 'chemicalId' | 'solute' | 'hazards' | 'chemicalCode' | 'chemicalName'>,
  target: Target,
): string[] =>
  lotStops(lot, target).map((stop) => `${lot.chemicalCode} ${lot.chemicalName}: ${mixingStopWords[stop]}`);

/** Lots to choose from: the planned chemical leads, what has expired and what does not belong there come last, marked. */
export function rankedLots(
  lots: readonly ChemicalLot[],
  target: Target,
): { lot: ChemicalLot; marks: string[] }[] {
  const ranked = lots.map((lot) => {
    const stops = lotStops(lot, target);
    const isDangerous = stops.some((stop) => stop !== 'not-planned');
    const rank = (isDangerous ? 4 : stops.length > 0 ? 2 : 0) + (lot.expired ? 1 : 0);
    const belongs = isDangerous
      ? ['DOES NOT BELONG IN THIS BATH']
      : stops.length > 0
        ? ['not the planned chemical']
        : [];
    return { lot, rank, marks: [...(lot.expired ? ['PAST ITS DATE'] : []), ...belongs] };
  });
  return ranked.toSorted((one, other) => one.rank - other.rank).map(({ lot, marks }) => ({ lot, marks }));
}

/** Safety data sheets of the lots that are taken, each once. */
export function safetySheets(
  lots: readonly ChemicalLot[],
  lotIds: readonly (number | null)[],
): { fileId: number; name: string }[] {
  const sheets = lots.flatMap(({ id, sdsFileId, chemicalName }) =>
    lotIds.includes(id) && sdsFileId !== null ? [[sdsFileId, chemicalName] as const] : [],
  );
  return [...new Map(sheets)].map(([fileId, name]) => ({ fileId, name }));
}
