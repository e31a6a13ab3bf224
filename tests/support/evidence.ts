import type { Db } from '../../apps/api/src/db/client.ts';
import { aimsOf } from '../../apps/api/src/colour/evidence/coverage.ts';
import { readColourSteps } from '../../apps/api/src/colour/evidence/queries.ts';

let made = 0;

/** Two people who write and approve a series of coupons, by rows. */
async function couponPeople(db: Db, series: number) {
  const person = (role: string) =>
    db.prisma.person.create({
      data: { name: `${role}-${series}`, displayName: role, roles: ['lab'] },
      select: { id: true },
    });
  return { author: await person('coupon-author'), approver: await person('coupon-approver') };
}

/** An approved series of three coupons made just as the colour steps of a revision ask, on one material. */
export async function couponsFor(
  db: Db,
  { revisionId, materialId }: { revisionId: number; materialId: number },
): Promise<{ seriesId: number; code: string }> {
  const [step] = await readColourSteps(db.execute, [revisionId]);
  if (step === undefined) throw new Error('the revision has no colour step');
  // Kept: two may be made at the same moment.
  const series = (made += 1);
  const { author, approver } = await couponPeople(db, series);
  const aim = (quantity: string, otherwise: number) =>
    aimsOf(step).find((one) => one.quantity === quantity)?.target ?? otherwise;
  const trial = (position: number) => ({
    ...{ position, mark: `P${position}`, outcome: 'interference', madeBy: 'coupon-author', strength: 30 },
    temperatureC: aim('temperatureC', 21),
    voltageV: aim('voltageV', 16),
    timeS: aim('timeS', 60),
    ...{ labL: 40, labA: 5, labB: -30, madeOn: new Date('2026-01-02') },
  });
  const { id, code } = await db.prisma.couponSeries.create({
    data: {
      ...{
        code: `PROOF-${series}`,
        revision: 1,
        name: `Proof ${series}`,
        materialId,
        contents: step.contents ?? '',
      },
      ...{ component: 'Na3PO4', unit: 'gramsPerLitre', referenceTemperatureC: 20 },
      ...{ authorId: author.id, writerIds: [author.id], trials: { create: [1, 2, 3].map(trial) } },
    },
  });
  await db.prisma.couponSeries.update({
    where: { id },
    data: { status: 'approved', approvedById: approver.id, approvedAt: new Date() },
  });
  return { seriesId: id, code };
}

/**
 * Puts coupons behind a recipe revision, so that it is proved on a material: on one of its first metal where none is named.
 * Returns the piece of evidence.
 *
 * @example
 * await proveRevision(db, { revisionId: shop.recipeRevisionId, materialId: shop.materialId });
 */
export async function proveRevision(
  db: Db,
  { revisionId, materialId }: { revisionId: number; materialId?: number },
): Promise<{ id: number; seriesId: number }> {
  const revision = await db.prisma.recipeRevision.findUniqueOrThrow({
    where: { id: revisionId },
    include: { recipe: true },
  });
  const [baseMetal = 'titanium'] = revision.recipe.baseMetals;
  const material =
    materialId === undefined
      ? await anyMaterial(db, baseMetal)
      : await db.prisma.material.findUniqueOrThrow({ where: { id: materialId } });
  const { seriesId } = await couponsFor(db, { revisionId, materialId: material.id });
  const { id } = await db.prisma.recipeEvidence.create({
    data: {
      ...{ revisionId, seriesId, kind: 'coupons', grade: 'measured', pieces: 3, materialId: material.id },
      ...{ alloy: material.name, condition: material.condition, baseMetal: material.baseMetal },
      ...{ citedInDraft: revision.status === 'draft', citedById: revision.authorId },
    },
  });
  return { id, seriesId };
}

const anyMaterial = async (db: Db, baseMetal: string) =>
  (await db.prisma.material.findFirst({ where: { baseMetal } })) ??
  (await db.prisma.material.create({
    data: {
      ...{ name: `Proved ${baseMetal}`, baseMetal, densityKgPerM3: 4510, heatCapacityJPerKgK: 524 },
      ...{ source: 'test', evidence: 'M' },
    },
  }));
