import { bathAfterAdditions, CalcError, gramsPerLitreFrom } from '@huelot/calc';
import {
  type AnalysisBackground,
  type BathSetup,
  sideOfContents,
  type TankContents,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readUse } from '../baths/index.ts';
import * as queries from './background-queries.ts';

const DAY = 86_400_000;
const roomC = 20;

type Previous = Awaited<ReturnType<typeof queries.readPrevious>>[number];

/**
 * What is known of a bath before a sample: its last figures, what was added and carried out since. Results are judged
 * against it before they are kept.
 */
export async function analysisBackground(
  execute: SqlExecutor,
  input: {
    bath: { id: number; contents: TankContents };
    setup: BathSetup | null;
    sampledAt: Date;
    correctsId: number | null;
  },
): Promise<AnalysisBackground> {
  const { bath, setup, sampledAt, correctsId } = input;
  const rows = await queries.readPrevious(execute, { bathId: bath.id, sampledAt, correctsId });
  const uses = await readUse(
    execute,
    rows.map((row) => ({ bathId: bath.id, since: row.sampledAt, until: sampledAt })),
  );
  const strength = rows.find(({ component }) => component === setup?.solute);
  const after =
    setup === null || !strength ? null : await afterAdditions(execute, { ...input, setup, strength });
  const watched = [...new Set([setup?.solute ?? [], setup?.components.map(({ key }) => key) ?? []].flat())];
  return {
    side: sideOfContents[bath.contents],
    watched,
    previous: rows.map((row, index) => ({
      component: row.component,
      unit: row.unit,
      referenceTemperatureC: row.referenceTemperatureC,
      value: row.value,
      standardUncertainty: row.standardUncertainty,
      isStrength: row.component === setup?.solute,
      days: (sampledAt.getTime() - row.sampledAt.getTime()) / DAY,
      carriedOutShare:
        setup === null ? 0 : ((uses[index]?.areaM2 ?? 0) * setup.dragOutLPerM2) / setup.fullVolumeL,
      expected:
        after === null || setup?.solute == null ? null : expectedOf(row, { ...after, solute: setup.solute }),
    })),
  };
}

/** The bath after what was added since its strength was found; null where nothing was, or it cannot be told. */
async function afterAdditions(
  execute: SqlExecutor,
  input: { bath: { id: number }; setup: BathSetup; strength: Previous; sampledAt: Date },
): Promise<{ massFraction: number; dilution: number } | null> {
  const { bath, setup, strength, sampledAt } = input;
  const { massFraction } = strength;
  if (setup.solute === null || massFraction === null) return null;
  const { solute, workingTemperatureC: temperatureC } = setup;
  const between = { bathId: bath.id, since: strength.sampledAt, until: sampledAt, solute };
  const moves = await queries.readMoves(execute, between);
  if (moves.length === 0) return null;
  const volumeL = moves[0]?.volumeBeforeL ?? setup.fullVolumeL;
  return orNull(() => bathAfterAdditions({ solute, temperatureC, massFraction, volumeL, moves }));
}

function expectedOf(
  row: Previous,
  after: { massFraction: number; dilution: number; solute: NonNullable<BathSetup['solute']> },
): number | null {
  const { massFraction, dilution, solute } = after;
  if (row.component !== solute)
    return row.unit === 'gramsPerLitre' || row.unit === 'molPerLitre' ? row.value * dilution : null;
  if (row.unit === 'massFraction') return massFraction;
  if (row.unit !== 'gramsPerLitre' || row.massFraction === null || row.massFraction === 0) return null;
  const temperatureC = row.referenceTemperatureC ?? roomC;
  const gramsPerLitre = (share: number) =>
    gramsPerLitreFrom({ solute, massFraction: share, temperatureC }).gramsPerLitre;
  return orNull(
    () => (row.value * gramsPerLitre(massFraction)) / gramsPerLitre(row.massFraction ?? massFraction),
  );
}

/** Figures that no bath can have tell nothing. */
function orNull<T>(work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof CalcError) return null;
    throw error;
  }
}
