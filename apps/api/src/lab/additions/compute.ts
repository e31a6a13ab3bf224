import { CALC_VERSION, CalcError, faultWords, writtenAddition, writtenTopUp } from '@huelot/calc';
import { type AdditionRequest, cautionsOfAddition, type ComputedAddition } from '@huelot/contracts';
import { fieldError } from '../../kernel/refusal.ts';
import type { LotRow } from '../chemicals/index.ts';

export interface ComputedWithCautions {
  computed: ComputedAddition;
  cautions: string[];
}

/** What the calculation answers to a request; what it cannot answer is refused with its place in the form. */
export function computeAddition(request: AdditionRequest, lot: LotRow | null): ComputedWithCautions {
  try {
    return request.type === 'level' ? byLevel(request) : byStrength(request, lot);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw fieldError(`request.${error.path}`, faultWords(error));
  }
}

function byStrength(
  request: Extract<AdditionRequest, { type: 'strength' }>,
  lot: LotRow | null,
): ComputedWithCautions {
  if (lot === null)
    throw fieldError('request.chemicalLotId', `there is no chemical lot ${request.chemicalLotId}`);
  if (lot.solute !== request.solute)
    throw fieldError(
      'request.chemicalLotId',
      `${lot.chemicalCode} brings ${lot.solute ?? 'no solute on file'}, not ${request.solute}`,
    );
  const { plan, steps } = writtenAddition({ request, lot });
  if (!plan.possible) throw fieldError('request.targetMassFraction', plan.explanation);
  const short = plan.stock.kg - lot.balanceKg;
  return {
    computed: {
      calcVersion: CALC_VERSION,
      steps,
      bathBefore: plan.bathBefore,
      bathAfter: plan.bathAfter,
      temperatureRiseK: plan.temperatureRiseK,
      expectedRiseK: plan.expectedRiseK,
      uncertain: plan.uncertain,
      flags: [
        ...plan.flags,
        ...(short > 0 ? [`the lot is ${short.toFixed(1)} kg short: take the rest from another`] : []),
      ],
    },
    cautions: cautionsOfAddition(plan.cautions),
  };
}

function byLevel(request: Extract<AdditionRequest, { type: 'level' }>): ComputedWithCautions {
  const { steps, flags, cautions } = writtenTopUp(request);
  return {
    computed: {
      calcVersion: CALC_VERSION,
      steps,
      bathBefore: null,
      bathAfter: null,
      temperatureRiseK: null,
      uncertain: false,
      flags,
    },
    cautions: cautionsOfAddition(cautions),
  };
}
