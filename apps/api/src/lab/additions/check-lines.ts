import type { PlannedStep } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { type BathRow, readSetupsOf } from '../baths/index.ts';
import { type LotRow, readLot } from '../chemicals/index.ts';
import { doubtsOfAddition } from './doubts.ts';
import { plannedChemicals, readBathOnHand, stopsOf } from './stops.ts';
import { type Actuals, lockLots } from './write-queries.ts';

/** Straying from the plan by more than this asks for a reason. Common practice, no source. */
const MAX_DEVIATION = 0.1;

interface Checked {
  bath: BathRow;
  steps: readonly PlannedStep[];
  input: Actuals;
  /** What a wrong record took from each lot, and a correction gives back. */
  giveBack: ReadonlyMap<number, number>;
  hasChecker: boolean;
}

/**
 * Checks what was really added: stock comes from open lots that hold enough, a decant says where it went, and
 * whatever strays from the plan, has expired or should not have gone in has a reason, the last a second person too.
 * Locks the lots; returns what was asked.
 */
export async function checkLines(tx: Tx, options: Checked): Promise<string[]> {
  const { input } = options;
  const lotIds = input.lines.flatMap(({ chemicalLotId }) => chemicalLotId ?? []);
  await lockLots(tx.execute, [...lotIds, ...options.giveBack.keys()]);
  const hasReason = input.reason.trim() !== '';
  const isWatched = await watches(tx, options.bath.id);
  const left = new Map<number, number>();
  const poured: { action: string; lot: LotRow | null }[] = [];
  for (const [at, line] of input.lines.entries()) {
    const place = `lines.${at}`;
    if (line.kg === 0 && line.action !== 'filter' && line.action !== 'electrode')
      throw fieldError(`${place}.kg`, 'must be more than 0');
    if (line.action === 'decant' && line.waste === null && isWatched)
      throw fieldError(`${place}.waste`, 'must be filled in: where the decant went');
    if (line.action !== 'decant' && line.waste !== null)
      throw fieldError(`${place}.waste`, 'must be empty: only a decant is waste');
    if (line.action !== 'add-stock') {
      poured.push({ action: line.action, lot: null });
      if (line.chemicalLotId !== null)
        throw fieldError(`${place}.chemicalLotId`, 'must be empty: only stock comes from a lot');
      continue;
    }
    if (line.chemicalLotId === null)
      throw fieldError(`${place}.chemicalLotId`, 'must be filled in: which lot it was taken from');
    const lot = await readLot(tx.execute, line.chemicalLotId);
    if (lot === null)
      throw fieldError(`${place}.chemicalLotId`, `there is no chemical lot ${line.chemicalLotId}`);
    const name = `${lot.chemicalCode} lot ${lot.supplierLot}`;
    // A lot that was finished since may still stand in the record of a correction.
    if (lot.status !== 'open' && !options.giveBack.has(lot.id))
      throw fieldError(`${place}.chemicalLotId`, `${name} is ${lot.status}`);
    poured.push({ action: line.action, lot });
    if (lot.expired && !hasReason)
      throw fieldError('reason', `is needed: ${name} has expired (${lot.expiresOn ?? ''})`);
    const had = left.get(lot.id) ?? lot.balanceKg + (options.giveBack.get(lot.id) ?? 0);
    if (line.kg > had + 1e-9)
      throw fieldError(`${place}.kg`, `is more than the ${had.toFixed(3)} kg left of ${name}`);
    left.set(lot.id, had - line.kg);
  }
  const stray = strayed(options.steps, input);
  if (stray !== null && !hasReason) throw fieldError('reason', `is needed: ${stray}`);
  const planned = await plannedChemicals(tx, options.steps);
  const stops = stopsOf(poured, { bath: await readBathOnHand(tx, options.bath), planned });
  if (stops.length > 0 && !hasReason) throw fieldError('reason', `is needed: ${stops.join('; ')}`);
  if (stops.length > 0 && !options.hasChecker)
    throw fieldError('checker', `must be filled in, with a PIN: ${stops.join('; ')}`);
  const doubts = await doubtsOfAddition(tx, {
    bathId: options.bath.id,
    moves: input.lines,
    steps: options.steps,
    readings: {
      volumeL: input.volumeBeforeL,
      beforeC: input.temperatureBeforeC,
      afterC: input.temperatureAfterC,
    },
  });
  if (doubts.length > 0 && !hasReason) throw fieldError('reason', `is needed: ${doubts.join('; ')}`);
  return [...(stray === null ? [] : [stray]), ...stops, ...doubts];
}

async function watches(tx: Tx, bathId: number): Promise<boolean> {
  const setup = (await readSetupsOf(tx.execute, [bathId])).get(bathId);
  return setup !== undefined && setup.components.length > 0;
}

/** The first kind of thing of which more or less was done than planned; null when all is near the plan. */
function strayed(steps: readonly PlannedStep[], { lines }: Actuals): string | null {
  for (const action of ['decant', 'add-water', 'add-stock'] as const) {
    const sum = (items: readonly { action: string; kg: number }[]) =>
      items.filter((one) => one.action === action).reduce((total, { kg }) => total + kg, 0);
    // What was held back is given only after the next analysis.
    const planned = sum(steps.filter(({ heldBack }) => !heldBack));
    const done = sum(lines);
    if (Math.abs(done - planned) > MAX_DEVIATION * planned + 1e-9)
      return `${done.toFixed(2)} kg (${action}) is more than a tenth off the ${planned.toFixed(2)} kg planned`;
  }
  return null;
}
