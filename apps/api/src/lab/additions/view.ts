import {
  type Addition,
  type AdditionSheet,
  type AdditionSummary,
  chemicalHazardWords,
  usualCautions,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readBath, readHoldOfAddition, readBathStatuses, toBath, toHold } from '../baths/index.ts';
import { readUsableLots, toLot } from '../chemicals/index.ts';
import { densityRatio, expectedBath, strengthFound } from './expected.ts';
import * as queries from './queries.ts';
import { readLastTwo, readSample, readTankLimits } from './stop-queries.ts';

/** Strong caustic that is hot is handled by two: the one who adds and one who checks. */
export const needsSecondPerson = (contents: string, actions: readonly string[]): boolean =>
  contents === 'hot-caustic' &&
  actions.some((action) => action === 'add-stock' || action === 'add-water' || action === 'decant');

/** What goes into a bath mixes in before work goes on; a rinse is water all the same. */
export const needsMixing = (contents: string, actions: readonly string[]): boolean =>
  !contents.endsWith('rinse') && actions.some((action) => action === 'add-stock' || action === 'add-water');

const kg = (amount: number) => `${Number(amount.toPrecision(4))} kg`;
const litres = (amount: number) => `${Number(amount.toPrecision(4))} L`;

/** `decant 9.39 L, add 22.4 kg SA-96 lot 4711`. */
function wordsOf(row: queries.AdditionRow): string {
  const parts =
    row.state === 'done'
      ? row.lines.map((line) => ({
          ...line,
          what: line.chemical === null ? '' : ` ${line.chemical.code} lot ${line.chemical.supplierLot}`,
        }))
      : row.steps.map((step) => ({ ...step, what: '' }));
  const words = parts.flatMap(({ action, kg: amount, volumeL, what }) => {
    const measure = volumeL === null ? kg(amount) : litres(volumeL);
    if (action === 'decant') return `decant ${measure}`;
    if (action === 'add-water') return `add ${measure} water`;
    if (action === 'add-stock') return `add ${kg(amount)}${what}`;
    if (action === 'filter') return 'filter';
    return action === 'electrode' ? 'electrode work' : [];
  });
  return words.join(', ') || row.kind;
}

/** How a page lists an addition. */
export const toSummary = (row: queries.AdditionRow): AdditionSummary => ({
  id: row.id,
  number: row.number,
  bathId: row.bath.id,
  bathNumber: row.bath.number,
  tankCode: row.bath.tankCode,
  kind: row.kind,
  state: queries.stateOf(row),
  plannedBy: row.plannedBy,
  plannedAt: row.plannedAt.toISOString(),
  doneBy: row.doneBy,
  doneAt: row.finishedAt?.toISOString() ?? null,
  words: wordsOf(row),
  cost: row.cost,
  fromAnalysis: row.fromAnalysis,
});

/** One addition as its page shows it. */
export async function toAddition(execute: SqlExecutor, row: queries.AdditionRow): Promise<Addition> {
  const hold = await readHoldOfAddition(execute, row.id);
  return {
    id: row.id,
    number: row.number,
    bath: row.bath,
    kind: row.kind,
    state: queries.stateOf(row),
    fromAnalysis: row.fromAnalysis,
    request: row.request,
    computed: row.computed,
    steps: row.steps,
    edited: row.edited,
    reason: row.planReason,
    questions: row.planQuestions,
    cautions: [
      ...new Set([
        ...(row.computed?.cautions ?? []),
        ...row.hazards.map((hazard) => chemicalHazardWords[hazard]),
        ...usualCautions({ kind: 'rinse', contents: row.contents, onSupply: false }),
      ]),
    ],
    needsSecondPerson: needsSecondPerson(
      row.contents,
      row.steps.map(({ action }) => action),
    ),
    needsMixing: needsMixing(
      row.contents,
      row.steps.map(({ action }) => action),
    ),
    hold: hold === null ? null : toHold(hold),
    plannedBy: row.plannedBy,
    plannedAt: row.plannedAt.toISOString(),
    bathVersion: row.bathVersion,
    done: doneOf(row),
    withdrawnBy: row.withdrawnBy,
    withdrawReason: row.withdrawReason,
    corrects: row.corrects,
    correctedBy: row.correctedBy,
    confirmedBy: row.confirmedBy,
  };
}

function doneOf(row: queries.AdditionRow): Addition['done'] {
  const { doneBy, startedAt, finishedAt } = row;
  if (doneBy === null || startedAt === null || finishedAt === null) return null;
  return {
    by: doneBy,
    checkedBy: row.checkedBy,
    startedAt: startedAt.toISOString(),
    finishedAt: finishedAt.toISOString(),
    temperatureBeforeC: row.temperatureBeforeC,
    temperatureAfterC: row.temperatureAfterC,
    volumeBeforeL: row.volumeBeforeL,
    volumeAfterL: row.volumeAfterL,
    lines: row.lines,
    cost: row.cost,
    reason: row.doneReason,
    questions: row.doneQuestions,
    notes: row.notes,
  };
}

export const viewAddition = async (execute: SqlExecutor, id: number): Promise<Addition> =>
  toAddition(execute, orNotFound(await queries.readAddition(execute, id), `addition ${id}`));

async function strengthAnalysesOf(
  execute: SqlExecutor,
  { bathId, solute }: { bathId: number; solute: string | null },
): Promise<AdditionSheet['strengthAnalyses']> {
  if (solute === null) return [];
  const rows = await readLastTwo(execute, { bathId, solute });
  return rows.map(({ number, value, standardUncertainty, massFraction }) => ({
    number,
    value,
    standardUncertainty,
    massFraction,
  }));
}

/** All that planning and doing an addition needs. */
export async function viewSheet(execute: SqlExecutor, bathId: number): Promise<AdditionSheet> {
  const bath = orNotFound(await readBath(execute, bathId), `bath ${bathId}`);
  const standing = orNotFound((await readBathStatuses(execute, [bath])).get(bathId), `bath ${bathId}`);
  const planned = await queries.readPlanned(execute, bathId);
  const recent = await queries.readAdditions(execute, { bathId, before: null, limit: 9 });
  const { setup, latest } = standing;
  const strength = strengthFound(setup, latest);
  const sample = strength && (await readSample(execute, strength.strength.analysisId));
  const ratio = sample && densityRatio({ setup, found: strength.strength, sample });
  return {
    bath: toBath(bath),
    setup,
    status: standing.status,
    latest,
    strength: strength && {
      ...strength.strength,
      volumeL: sample?.volumeL ?? null,
      densityRatio: ratio,
    },
    expected: expectedBath({ setup, found: strength, densityRatio: ratio, additions: recent }),
    strengthAnalyses: await strengthAnalysesOf(execute, { bathId, solute: setup?.solute ?? null }),
    tankLimits: await readTankLimits(execute, bathId),
    // The sheet also comes with refusals: it never says what anything cost.
    lots: (await readUsableLots(execute, {})).map((lot) => ({ ...toLot(lot), pricePerKg: null })),
    planned: planned === null ? null : await toAddition(execute, planned),
    recent: recent.map((row) => ({ ...toSummary(row), cost: null })),
    cautions: usualCautions({ kind: 'rinse', contents: bath.contents, onSupply: false }),
    needsSecondPerson: needsSecondPerson(bath.contents, ['add-stock']),
  };
}
