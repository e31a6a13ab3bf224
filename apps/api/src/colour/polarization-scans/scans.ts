import { CALC_VERSION, CalcError, corrosionFromScan } from '@huelot/calc';
import type { NewPolarizationScan, PolarizationScan, ScanOutcome } from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { type Db, inTransaction, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

/** One scan with its points, or a refusal that there is none. */
export const readScan = async ({ execute }: Pick<Tx, 'execute'>, id: number): Promise<PolarizationScan> =>
  orNotFound(await queries.readScan(execute, id), `polarization scan ${id}`);

/** Keeps a scan with what it gives, under the next number; in the place of another where one is named. */
export function keepScan(
  db: Db,
  {
    actor,
    input,
    replaces,
  }: { actor: Actor; input: NewPolarizationScan; replaces: { id: number; reason: string } | null },
): Promise<PolarizationScan> {
  return inTransaction(db, async (tx) => {
    const old = replaces === null ? null : await replaceable(tx, replaces.id);
    const material = await tx.prisma.material.findUnique({ where: { id: input.materialId } });
    if (material === null) throw fieldError('materialId', 'must be a material of the shop');
    const { id } = await queries.addScan(tx, {
      ...{ input, replaces, enteredById: actor.personId, calcVersion: CALC_VERSION },
      number: await nextNumber(tx.execute, 'polarization-scan'),
      result: resultOf(input, material.densityKgPerM3),
    });
    const scan = await readScan(tx, id);
    const about = { kind: 'polarization-scan', id, number: scan.number } as const;
    await writeAudit(tx.execute, actor, {
      ...about,
      action: old === null ? 'entered' : `entered in the place of ${old.number}`,
      ...(replaces === null ? {} : { reason: replaces.reason }),
    });
    return scan;
  });
}

async function replaceable(tx: Tx, id: number): Promise<PolarizationScan> {
  await queries.lockScan(tx.execute, id);
  const old = await readScan(tx, id);
  if (old.replacedBy !== null)
    throw new DomainError('conflict', `${old.number} was replaced already, by ${old.replacedBy.number}.`);
  return old;
}

const fieldOf: Readonly<Record<string, keyof NewPolarizationScan>> = {
  areaCm2: 'areaMm2',
  solutionResistanceOhmCm2: 'solutionResistanceOhm',
};

function resultOf(input: NewPolarizationScan, densityKgPerM3: number): ScanOutcome {
  const areaCm2 = input.areaMm2 / 100;
  try {
    return corrosionFromScan({
      ...{ points: input.points, areaCm2, windowV: input.windowV, sternGearyV: input.sternGearyV },
      solutionResistanceOhmCm2:
        input.solutionResistanceOhm === null ? undefined : input.solutionResistanceOhm * areaCm2,
      ...{ equivalentWeight: input.equivalentWeight, densityGPerCm3: densityKgPerM3 / 1000 },
    });
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw fieldError(fieldOf[error.argument] ?? 'points', error.rule);
  }
}
