/** A bath before its correction, in kilograms and mass fractions, and what is wanted of it. All of it already checked. */
export interface Correction {
  bathKg: number;
  massFraction: number;
  targetMassFraction: number;
  stockMassFraction: number;
  /** Masses of bath at the target strength that stand at the mark, and at the highest level allowed. */
  markKg: number;
  limitKg: number;
  /** Whether water and stock also bring the level up to the mark. */
  fillToMark: boolean;
  impurity: ImpurityBalance | null;
}

/** Mass fractions of an impurity: in the bath, in the stock, and the most allowed afterwards. */
export interface ImpurityBalance {
  inBath: number;
  inStock: number;
  allowed: number;
}

export interface AdditionAmounts {
  decantKg: number;
  stockKg: number;
  waterKg: number;
}

export type AmountsRefusal = 'stock-not-stronger' | 'stock-too-impure';

/**
 * The least that has to be decanted, and the stock and water that then bring the bath to its target strength. With
 * k kg of the bath kept and F kg wanted in the end, solute and mass balance give
 *     stock = (w* F - w k)/p      water = F - k - stock
 * and k must leave both of them at or above zero.
 */
export function additionAmounts(correction: Correction): AdditionAmounts | AmountsRefusal {
  const { bathKg, massFraction, targetMassFraction, stockMassFraction, impurity } = correction;
  if (massFraction < targetMassFraction && stockMassFraction <= targetMassFraction)
    return 'stock-not-stronger';
  const finalKg = finalMass(correction);
  const plan = exchange(correction, { finalKg, keptKg: mostKept(correction, finalKg) });
  if (typeof plan === 'string' || !impurity) return plan;

  const keptKg = bathKg - plan.decantKg;
  const carried = (keptKg * impurity.inBath + plan.stockKg * impurity.inStock) / finalKg;
  if (carried <= impurity.allowed) return plan;
  const cleanKg = keptForImpurity(correction, { impurity, finalKg });
  if (cleanKg === null) return 'stock-too-impure';
  return exchange(correction, { finalKg, keptKg: Math.min(keptKg, cleanKg) });
}

/** The mass that needs no decanting, raised to the mark where asked, lowered to the highest level where it must be. */
function finalMass(correction: Correction): number {
  const { bathKg: m, massFraction: w, targetMassFraction: target, stockMassFraction: p } = correction;
  const strengthOnly = w < target ? (m * (p - w)) / (p - target) : (m * w) / target;
  return Math.min(correction.limitKg, Math.max(strengthOnly, correction.fillToMark ? correction.markKg : 0));
}

/** The most bath that can stay in `finalKg` without calling for a negative amount of stock or of water. */
function mostKept(correction: Correction, finalKg: number): number {
  const { bathKg, massFraction: w, targetMassFraction: target, stockMassFraction: p } = correction;
  const leavesRoom = w < target ? (finalKg * (p - target)) / (p - w) : (finalKg * target) / w;
  return Math.min(bathKg, finalKg, leavesRoom);
}

function exchange(
  correction: Correction,
  { finalKg, keptKg }: { finalKg: number; keptKg: number },
): AdditionAmounts | AmountsRefusal {
  const { bathKg, massFraction: w, targetMassFraction: target, stockMassFraction: p } = correction;
  // What rounding leaves of a balance that needs none: less than a thousandth of a gram in a tonne.
  const settled = (kg: number): number => (kg > 1e-9 * finalKg ? kg : 0);
  const missingSoluteKg = settled(target * finalKg - w * keptKg);
  if (missingSoluteKg > 0 && p <= target) return 'stock-not-stronger';
  const stockKg = missingSoluteKg / p;
  return { decantKg: settled(bathKg - keptKg), stockKg, waterKg: settled(finalKg - keptKg - stockKg) };
}

/** Kept bath from the balance of the impurity, k z + stock q = z* F; null when the stock alone brings in too much. */
function keptForImpurity(
  { massFraction: w, targetMassFraction: target, stockMassFraction: p }: Correction,
  { impurity, finalKg }: { impurity: ImpurityBalance; finalKg: number },
): number | null {
  const allowedKg = impurity.allowed * finalKg - (impurity.inStock * target * finalKg) / p;
  const perKept = impurity.inBath - (impurity.inStock * w) / p;
  return allowedKg <= 0 ? null : allowedKg / perKept;
}
