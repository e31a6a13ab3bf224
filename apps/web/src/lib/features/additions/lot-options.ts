import type { ChemicalLot } from '@huelot/contracts';
import { format } from '$lib/format/format.ts';
import { rankedLots } from './lot-choice.ts';

/** Lots as a field offers them, in the order of {@link rankedLots}. */
export const lotOptions = (
  lots: readonly ChemicalLot[],
  target: Parameters<typeof rankedLots>[1],
): { value: number; label: string }[] =>
  rankedLots(lots, target).map(({ lot, marks }) => ({
    value: lot.id,
    label: [
      `${lot.chemicalCode} ${lot.chemicalName}, lot ${lot.supplierLot}`,
      `${format.quantity('mass', lot.balanceKg)} left`,
      ...marks,
    ].join(', '),
  }));
