import { secondAnalysis } from '@huelot/calc';
import { type PlannedStep, secondAnalysisWords } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { type BathRow, readSetupsOf } from '../baths/index.ts';
import { readLastTwo } from './stop-queries.ts';

/** A litre of bath weighs at least this where its density is not worked out. Common practice, no source. */
const kgPerLitre = 1;

/**
 * Refuses a large addition that stands on one analysis alone: a slipped decimal point asks for half a bath of chemicals.
 * A make-up goes into an empty tank, and a bath without a solute has no strength to analyse.
 */
export async function checkSecondAnalysis(
  tx: Tx,
  input: {
    bath: BathRow;
    kind: string;
    steps: readonly PlannedStep[];
    bathKg: number | null;
    startMassFraction: number | null;
  },
): Promise<void> {
  const { bath, kind, steps } = input;
  const setup = (await readSetupsOf(tx.execute, [bath.id])).get(bath.id);
  if (setup?.solute == null || kind === 'make-up') return;
  const bathKg = input.bathKg ?? kgPerLitre * setup.fullVolumeL;
  if (bathKg <= 0) return;
  const stockKg = steps.reduce((sum, { action, kg }) => (action === 'add-stock' ? sum + kg : sum), 0);
  const { secondAnalysisAboveShare: mostShare } = setup;
  const analyses = await readLastTwo(tx.execute, { bathId: bath.id, solute: setup.solute });
  const wanted = secondAnalysis({
    stockKg,
    bathKg,
    mostShare,
    analyses,
    startMassFraction: input.startMassFraction,
  });
  if (wanted === null) return;
  const numbers = analyses.map(({ number }) => number);
  throw new DomainError('conflict', secondAnalysisWords({ ...wanted, stockKg }, numbers));
}
