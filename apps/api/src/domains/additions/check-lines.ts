import type { PlannedStep } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { invalid } from '../../refusal.ts';
import { type BathRow, readSetupsOf } from '../baths/index.ts';
import { readLot } from '../chemicals/index.ts';
import { type Actuals, lockLots } from './write-queries.ts';

/** Straying from the plan by more than this asks for a reason. Common practice, no source. */
const mostStray = 0.1;

interface Checked {
  bath: BathRow;
  steps: readonly PlannedStep[];
  input: Actuals;
  /** What a wrong record took from each lot, and a correction gives back. */
  giveBack: ReadonlyMap<number, number>;
}

/**
 * Checks what was really added: stock comes from open lots that hold enough, a decant says where it went, and
 * whatever strays from the plan or is past its date has a reason. Locks the lots.
 */
export async function checkLines(tx: Tx, of: Checked): Promise<void> {
  const { input } = of;
  const lotIds = input.lines.flatMap(({ chemicalLotId }) => chemicalLotId ?? []);
  await lockLots(tx.run, [...lotIds, ...of.giveBack.keys()]);
  const hasReason = input.reason.trim() !== '';
  const isWatched = await watches(tx, of.bath.id);
  const left = new Map<number, number>();
  for (const [at, line] of input.lines.entries()) {
    const place = `lines.${at}`;
    if (line.kg === 0 && line.action !== 'filter' && line.action !== 'electrode')
      throw invalid(`${place}.kg`, 'must be more than 0');
    if (line.action === 'decant' && line.waste === null && isWatched)
      throw invalid(`${place}.waste`, 'must be filled in: where the decant went');
    if (line.action !== 'decant' && line.waste !== null)
      throw invalid(`${place}.waste`, 'must be empty: only a decant is waste');
    if (line.action !== 'add-stock') {
      if (line.chemicalLotId !== null)
        throw invalid(`${place}.chemicalLotId`, 'must be empty: only stock comes from a lot');
      continue;
    }
    if (line.chemicalLotId === null)
      throw invalid(`${place}.chemicalLotId`, 'must be filled in: which lot it was taken from');
    const lot = await readLot(tx.run, line.chemicalLotId);
    if (lot === null)
      throw invalid(`${place}.chemicalLotId`, `there is no chemical lot ${line.chemicalLotId}`);
    const name = `${lot.chemicalCode} lot ${lot.supplierLot}`;
    // A lot that was finished since may still stand in the record of a correction.
    if (lot.status !== 'open' && !of.giveBack.has(lot.id))
      throw invalid(`${place}.chemicalLotId`, `${name} is ${lot.status}`);
    if (lot.expired && !hasReason)
      throw invalid('reason', `is needed: ${name} is past its date (${lot.expiresOn ?? ''})`);
    const had = left.get(lot.id) ?? lot.balanceKg + (of.giveBack.get(lot.id) ?? 0);
    if (line.kg > had + 1e-9)
      throw invalid(`${place}.kg`, `is more than the ${had.toFixed(3)} kg left of ${name}`);
    left.set(lot.id, had - line.kg);
  }
  const stray = strayed(of.steps, input);
  if (stray !== null && !hasReason) throw invalid('reason', `is needed: ${stray}`);
}

async function watches(tx: Tx, bathId: number): Promise<boolean> {
  const setup = (await readSetupsOf(tx.run, [bathId])).get(bathId);
  return setup !== undefined && setup.components.length > 0;
}

/** The first kind of thing of which more or less was done than planned; null when all is near the plan. */
function strayed(steps: readonly PlannedStep[], { lines }: Actuals): string | null {
  for (const action of ['decant', 'add-water', 'add-stock'] as const) {
    const sum = (of: readonly { action: string; kg: number }[]) =>
      of.filter((one) => one.action === action).reduce((total, { kg }) => total + kg, 0);
    // What was held back is given only after the next analysis.
    const planned = sum(steps.filter(({ heldBack }) => !heldBack));
    const done = sum(lines);
    if (Math.abs(done - planned) > mostStray * planned + 1e-9)
      return `${done.toFixed(2)} kg (${action}) is more than a tenth off the ${planned.toFixed(2)} kg planned`;
  }
  return null;
}
