import { groupDigits } from '@huelot/contracts';
import { dissolution, type AdditionPlan } from '@huelot/calc';
import type { ChemicalLot } from '@huelot/contracts';
import { format } from '$lib/format/format.ts';
import type { Explanation } from '$lib/ui/types.ts';
import type { TypedStrength } from './plan-form.ts';

interface From {
  request: TypedStrength;
  lot: ChemicalLot | undefined;
}

const share = (value: number | null) => (value === null ? '–' : format.quantity('massFraction', value));

/** How the amount of stock comes about. */
export const explainStock = (plan: AdditionPlan, { request, lot }: From): Explanation => ({
  label: 'Stock to add',
  formula: [
    'mass now  m = ρ(w, t) · V',
    'stock  x = (w* · m* − w · (m − d)) / p',
    'water  y = m* − (m − d) − x',
    'decant  d: only where m* leaves no room',
  ].join('\n'),
  inputs: [
    {
      label: 'Volume now, V',
      value: format.quantity('volume', request.volumeL ?? 0),
      origin: 'read at the tank',
    },
    {
      label: 'Mass now, m',
      value: format.quantity('mass', plan.bathBefore.kg),
      origin: 'density at its temperature',
    },
    { label: 'Concentration now, w', value: share(request.massFraction), origin: 'latest analysis' },
    { label: 'Target, w*', value: share(plan.bathAfter.massFraction), origin: 'monitoring plan' },
    { label: 'Mass afterwards, m*', value: format.quantity('mass', plan.bathAfter.kg), origin: 'computed' },
    {
      label: 'Concentration of the stock, p',
      value: share(lot?.assayMassFraction ?? null),
      origin: 'assay of the lot',
    },
    { label: 'Decant, d', value: format.quantity('mass', plan.decant.kg), origin: 'computed' },
    { label: 'Water, y', value: format.quantity('mass', plan.water.kg), origin: 'computed' },
  ],
  source: 'Mass balances of solute and water, in kilograms; density tables of the solutes.',
  limits:
    'An impurity is not credited to the density. ± covers about 95 % of what strength and level leave open.',
});

function heatOf({ plan, request, lot }: From & { plan: AdditionPlan }) {
  if (!lot || request.temperatureC === null) return null;
  return dissolution({
    solute: request.solute,
    stock: { form: lot.form, massFraction: lot.assayMassFraction },
    stockKg: plan.stock.kg,
    waterKg: plan.water.kg,
    bath: {
      kg: plan.bathBefore.kg - plan.decant.kg,
      massFraction: plan.bathBefore.massFraction,
      temperatureC: request.temperatureC,
    },
  });
}
const kilojoules = (kJ: number | null | undefined) =>
  typeof kJ === 'number' ? `${groupDigits(kJ.toFixed(0))}\u00a0kJ` : '–';

/** How the expected warming comes about. */
export const explainRise = (plan: AdditionPlan, { request, lot }: From): Explanation => {
  const heat = heatOf({ plan, request, lot });
  return {
    label: 'Warming if all were added at once',
    formula: [
      'at most  ΔT = (x · p · |ΔH∞| / M + what water does to the bath) / (m* · c_p)',
      'expected  ΔT = (n* · |ΔH*| − n · |ΔH|) / (m* · c_p)',
    ].join('\n'),
    inputs: [
      { label: 'Stock, x', value: format.quantity('mass', plan.stock.kg), origin: 'computed' },
      {
        label: 'Concentration of the stock, p',
        value: share(lot?.assayMassFraction ?? null),
        origin: 'assay of the lot',
      },
      { label: 'Mass afterwards, m*', value: format.quantity('mass', plan.bathAfter.kg), origin: 'computed' },
      {
        label: 'Heat given off at most',
        value: kilojoules(heat?.kJ),
        origin: 'heat at infinite dilution, and of thinning the bath',
      },
      {
        label: 'Heat to expect, n* · |ΔH*| − n · |ΔH|',
        value: kilojoules(heat?.expectedKJ),
        origin: heat?.expectedKJ == null ? 'no table covers it' : 'integral heats, an estimate',
      },
      {
        label: 'Temperature now',
        value: request.temperatureC === null ? '–' : format.quantity('temperature', request.temperatureC),
        origin: 'read at the tank',
      },
    ],
    source:
      'Infinite dilution: Parker 1965 for the caustics, textbook values for sulfuric acid. Integral heats: for KOH derived from the water activity of Balej 1985, for NaOH a textbook table from memory.',
    limits:
      'Portions and warnings go by the most: nothing is lost to tank and air, and cold stock is not credited. What water does to a bath stronger than the tables, or to one of acid, is not in it.',
  };
};
