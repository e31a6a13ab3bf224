import type { CautionSign } from './caution-sign.ts';
import type { AnalysisMethod } from '../methods.ts';

interface ReagentCaution {
  text: string;
  sign: CautionSign | null;
}
const hydrofluoric: ReagentCaution = {
  text: 'Fluoride in acid sets hydrofluoric acid free: it burns deeply without early pain and can kill. Only people trained for it, under exhaust, with gloves and face shield, and calcium gluconate at hand and in date.',
  sign: 'poison',
};
const noGlass: ReagentCaution = {
  text: 'Plastic ware only: fluoride etches glass. Book the flask as waste that holds fluoride.',
  sign: null,
};
const barium: ReagentCaution = {
  text: 'Barium chloride is poisonous when swallowed or breathed: gloves, no dust, no pipetting by mouth. Book the flask as waste.',
  sign: 'poison',
};

/** Every caution about a reagent, with its picture. */
export const reagentCautions: readonly ReagentCaution[] = [hydrofluoric, noGlass, barium];

/**
 * What the reagents of a method can do, to be read before the first flask. Chemistry and common practice, no source; the
 * safety data sheets decide.
 *
 * @example
 * cautionsOfMethod({ kind: 'appearance', settings: { aluminium: null, procedure: null } }) // []
 */
export function cautionsOfMethod({
  kind,
  settings,
}: {
  kind: AnalysisMethod['kind'];
  settings: Pick<AnalysisMethod['settings'], 'aluminium' | 'procedure'>;
}): string[] {
  const takesFluoride =
    (kind === 'sulfuric-free-acid' && settings.aluminium === 'masked') ||
    (kind === 'sulfuric-aluminium' && settings.procedure === 'fluoride');
  if (takesFluoride) return [hydrofluoric.text, noGlass.text];
  return kind === 'caustic-barium-chloride' ? [barium.text] : [];
}
