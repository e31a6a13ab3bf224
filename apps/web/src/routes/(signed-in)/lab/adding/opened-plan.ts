import { dissolution, type AdditionPlan } from '@huelot/calc';
import type { ChemicalLot } from '@huelot/contracts';
import { groupDigits } from '$lib/units/number.ts';
import { shown } from '$lib/shown.ts';
import type { OpenedFigure } from '$lib/ui/types.ts';
import type { TypedStrength } from './plan-form.ts';

interface From {
  request: TypedStrength;
  lot: ChemicalLot | undefined;
}

const share = (value: number | null) => (value === null ? '–' : shown.quantity('massFraction', value));

/** How the amount of stock comes about. */
export const openedStock = (plan: AdditionPlan, { request, lot }: From): OpenedFigure => ({
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
      value: shown.quantity('volume', request.volumeL ?? 0),
      origin: 'read at the tank',
    },
    {
      label: 'Mass now, m',
      value: shown.quantity('mass', plan.bathBefore.kg),
      origin: 'density at its temperature',
    },
    { label: 'Strength now, w', value: share(request.massFraction), origin: 'latest analysis' },
    { label: 'Target, w*', value: share(plan.bathAfter.massFraction), origin: 'how the bath is watched' },
    { label: 'Mass afterwards, m*', value: shown.quantity('mass', plan.bathAfter.kg), origin: 'computed' },
    {
      label: 'Strength of the stock, p',
      value: share(lot?.assayMassFraction ?? null),
      origin: 'assay of the lot',
    },
    { label: 'Decant, d', value: shown.quantity('mass', plan.decant.kg), origin: 'computed' },
    { label: 'Water, y', value: shown.quantity('mass', plan.water.kg), origin: 'computed' },
  ],
  source: 'Mass balances of solute and water, in kilograms; density tables of the solutes.',
  limits:
    'An impurity is not credited to the density. ± covers about 95 % of what strength and level leave open.',
});

function heat({ plan, request, lot }: From & { plan: AdditionPlan }): string {
  if (!lot || request.temperatureC === null) return '–';
  const { kJ } = dissolution({
    solute: request.solute,
    stock: { form: lot.form, massFraction: lot.assayMassFraction },
    stockKg: plan.stock.kg,
    bath: { ...plan.bathBefore, temperatureC: request.temperatureC },
  });
  return kJ === null ? '–' : `${groupDigits(kJ.toFixed(0))}\u00a0kJ`;
}

/** How the expected warming comes about. */
export const openedRise = (plan: AdditionPlan, { request, lot }: From): OpenedFigure => ({
  label: 'Warming if all were added at once',
  formula: 'ΔT = x · p · |ΔH| / (M · m* · c_p)',
  inputs: [
    { label: 'Stock, x', value: shown.quantity('mass', plan.stock.kg), origin: 'computed' },
    {
      label: 'Strength of the stock, p',
      value: share(lot?.assayMassFraction ?? null),
      origin: 'assay of the lot',
    },
    { label: 'Mass afterwards, m*', value: shown.quantity('mass', plan.bathAfter.kg), origin: 'computed' },
    {
      label: 'Heat given off, Q = x · p · |ΔH| / M',
      value: heat({ plan, request, lot }),
      origin: 'computed',
    },
    {
      label: 'Temperature now',
      value: request.temperatureC === null ? '–' : shown.quantity('temperature', request.temperatureC),
      origin: 'read at the tank',
    },
  ],
  source:
    'Heat of solution at infinite dilution (Parker 1965 for the caustics, textbook values for sulfuric acid).',
  limits: 'On the safe side: nothing is lost to tank and air, and cold stock is not credited.',
});
