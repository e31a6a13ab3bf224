import { matchColour, type PassingStretch, voltageWindow, windowLimits } from '@huelot/calc';
import {
  type Calibration,
  type draftRecipeOfCalibration,
  NewStep,
  programmeSeconds,
  type RecipeRevisionRef,
  type Step,
} from '@huelot/contracts';
import type { z } from 'zod';
import { actorMay, type Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { addRecipe, readUsableRevisions } from '../../catalog/recipes/index.ts';
import { citeSeries } from '../evidence/index.ts';
import { nameOf } from './drafts.ts';
import { asGrowth } from './law.ts';
import * as queries from './queries.ts';
import { readCalibration } from './views.ts';

type Input = z.output<typeof draftRecipeOfCalibration.body>;

/**
 * Drafts a recipe for a colour: the shop's own route for the metal with the voltage that the law gives, its limits those of the
 * window drawn in by what the law is uncertain of. The series of the calibration are cited behind it, by whoever may.
 */
export function draftRecipe(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: Input },
): Promise<RecipeRevisionRef> {
  return inTransaction(db, async (tx) => {
    const calibration = await readCalibration(tx.execute, id);
    refuseUnfit(calibration);
    const { stretch, limits } = windowOf(calibration, input);
    const { material, coupons } = calibration;
    const route = await routeFor(tx, { calibration, limits });
    const beside = besides(calibration, stretch.bestVoltageV);
    const revision = await addRecipe(tx, {
      actor,
      input: {
        ...{ name: input.name, colour: input.colour, family: 'interference-colour' },
        baseMetals: [material.baseMetal],
        notes: '',
        changeNote: `By ${nameOf(calibration)}: dE ${stretch.deltaE.toFixed(1)} at ${limits.targetV} V, tolerance dE ${input.toleranceDeltaE}, coupons at ${beside.join(' and ')} V.`,
        steps: route,
      },
    });
    if (actorMay(actor, 'coupons.write')) {
      const used = new Set(
        coupons.filter(({ rejected }) => rejected === null).map(({ seriesId }) => seriesId),
      );
      for (const seriesId of await queries.readStillApproved(tx.execute, [...used]))
        await citeSeries(tx, {
          actor,
          revisionId: revision.id,
          input: {
            ...{ seriesId, grade: 'measured', comparerIds: [], expiresOn: null },
            note: `Behind ${nameOf(calibration)}`,
          },
        });
    }
    const { recipe } = revision;
    return {
      ...{ id: revision.id, recipeId: recipe.id, number: recipe.number, name: recipe.name },
      revision: revision.revision,
    };
  });
}

function refuseUnfit(calibration: Calibration): void {
  const { status, expiredAt } = calibration;
  if (status !== 'approved')
    throw new DomainError(
      'conflict',
      `${nameOf(calibration)} is ${status}: recipes are drafted by an approved one.`,
    );
  if (expiredAt !== null)
    throw new DomainError(
      'conflict',
      `${nameOf(calibration)} has drifted: readings since ${expiredAt.slice(0, 10)} have left its law. Calibrate again first.`,
    );
}

interface Limits {
  targetV: number;
  lowV: number;
  highV: number;
}

/** Supplies are set, and limits typed, to a tenth of a volt. */
const tenth = (value: number, round: (figure: number) => number) => round(value * 10 + 0) / 10;

function windowOf(
  { fit }: Calibration,
  { target, toleranceDeltaE, voltageV }: Input,
): { stretch: PassingStretch; limits: Limits } {
  const growth = asGrowth(fit.growth);
  const { stretches } = voltageWindow({ target, toleranceDeltaE, growth });
  const distance = (one: PassingStretch) => Math.abs(one.bestVoltageV - voltageV);
  const [stretch] = stretches.toSorted((one, other) => distance(one) - distance(other));
  if (stretch === undefined) {
    const [near] = matchColour({ target, growth, coupons: [], toleranceDeltaE }).candidates.toSorted(
      (one, other) => one.deltaE - other.deltaE,
    );
    throw fieldError(
      'target',
      `no voltage comes within dE ${toleranceDeltaE}; the nearest is ${near?.voltageV.toFixed(1)} V, dE ${near?.deltaE.toFixed(1)}`,
    );
  }
  const inner = windowLimits(stretch);
  const [lowV, highV] = [tenth(inner?.lowV ?? 1, Math.ceil), tenth(inner?.highV ?? 0, Math.floor)];
  if (lowV > highV)
    throw fieldError(
      'toleranceDeltaE',
      `leaves no window: the law is uncertain by ${(stretch.uncertaintyV ?? 0).toFixed(1)} V there. One more coupon would narrow it`,
    );
  if (voltageV < stretch.lowestVoltageV || voltageV > stretch.highestVoltageV)
    throw fieldError(
      'voltageV',
      `is outside of the nearest window, ${stretch.lowestVoltageV.toFixed(1)} to ${stretch.highestVoltageV.toFixed(1)} V`,
    );
  const targetV = Math.min(highV, Math.max(lowV, tenth(stretch.bestVoltageV, Math.round)));
  return { stretch, limits: { targetV, lowV, highV } };
}

/** The voltages of the nearest coupons on both sides. */
function besides({ coupons }: Calibration, voltageV: number): number[] {
  const used = coupons.filter(({ rejected }) => rejected === null).map((coupon) => coupon.voltageV);
  const below = Math.max(...used.filter((one) => one <= voltageV));
  const above = Math.min(...used.filter((one) => one >= voltageV));
  return [...new Set([below, above])].filter(Number.isFinite);
}

/** The route of the newest approved recipe for this metal in this kind of bath, with its voltage changed; else the step alone. */
async function routeFor(
  tx: Tx,
  { calibration, limits }: { calibration: Calibration; limits: Limits },
): Promise<NewStep[]> {
  const { contents, material } = calibration;
  const isColour = (step: Step) =>
    step.kind === 'colour' && step.contents === contents && step.electrical?.mode === 'voltage';
  const [model] = (await readUsableRevisions(tx))
    .filter(({ recipe, steps }) => recipe.baseMetals.includes(material.baseMetal) && steps.some(isColour))
    .toSorted((one, other) => (other.approvedAt ?? '').localeCompare(one.approvedAt ?? ''));
  const steps = model?.steps ?? [stepAlone(calibration)];
  return steps.map((step) => NewStep.parse(isColour(step) ? atVoltage(step, limits) : step));
}

function atVoltage(step: Step, { targetV, lowV, highV }: Limits): Step {
  const { electrical } = step;
  if (electrical === null) return step;
  const last = electrical.programme.at(-1)?.to ?? targetV;
  const scaled = (level: number) =>
    level === last ? targetV : Number(((level * targetV) / last).toFixed(2));
  return {
    ...step,
    title: `Colour at ${targetV} V`,
    settings: [
      { quantity: 'voltageV', target: targetV, low: lowV, high: highV },
      ...step.settings.filter(({ quantity }) => quantity !== 'voltageV'),
    ],
    record: step.record.includes('voltageV') ? step.record : ['voltageV', ...step.record],
    electrical: {
      ...electrical,
      programme: electrical.programme.map((stage) => ({ ...stage, to: scaled(stage.to) })),
      averageVoltageV: Math.min(targetV, scaled(electrical.averageVoltageV)),
    },
  };
}

const RAMP_S = 20;

/** Where the shop has no recipe to follow: time and temperature of the coupons. The current is asked for, nobody knows it yet. */
function stepAlone({ contents, fit }: Calibration): Step {
  const { temperatureC, holdS } = fit.growth.regime ?? { temperatureC: 20, holdS: 60 };
  const programme: NonNullable<Step['electrical']>['programme'] = [
    { kind: 'ramp', to: 1, seconds: RAMP_S },
    { kind: 'hold', to: 1, seconds: Math.max(1, Math.round(holdS)) },
  ];
  const middle = Math.round(temperatureC);
  return {
    ...{ kind: 'colour', title: 'Colour', contents, dripS: 15, cautions: [] },
    instructions: 'Current density not known yet: enter what the supply reads on a first load.',
    durationS: Math.ceil(programmeSeconds(programme)),
    record: ['voltageV', 'currentA', 'temperatureC'],
    settings: [{ quantity: 'temperatureC', target: middle, low: middle - 3, high: middle + 3 }],
    electrical: {
      ...{ programme, mode: 'voltage', peakCurrentDensityAPerM2: 200, steadyCurrentDensityAPerM2: 5 },
      ...{ timeConstantS: 12, averageVoltageV: 1, chargeCPerM2: null },
    },
  };
}
