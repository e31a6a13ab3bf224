import { z } from 'zod';
import { Solute } from './chemicals.ts';
import { ComponentKey, ComponentUnit, Limits, TemperatureC } from './lab-scalars.ts';
import { Id, Instant, Line, Positive, Quantity } from '../kernel/scalars.ts';

/** Something watched in a bath, with the working range and the range in which work stops. */
export const BathComponent = z.object({
  key: ComponentKey,
  name: Line(60),
  unit: ComponentUnit,
  /** The temperature that g/L and mol/L are stated at; null for units that need none. */
  referenceTemperatureC: TemperatureC.nullable(),
  ...Limits.shape,
});
export type BathComponent = z.output<typeof BathComponent>;

/** What is analysed how often: whichever of the four comes first. */
export const AnalysisPlan = z.object({
  key: ComponentKey,
  components: z.array(ComponentKey).min(1).max(12),
  /** Any revision of the method; the one in force is used. */
  methodId: Id.nullable(),
  everyDays: Positive(3650).nullable(),
  everyLoads: z.int().positive().max(1_000_000).nullable(),
  everyAreaM2: Positive(1e6).nullable(),
  everyAmpereHours: Positive(1e9).nullable(),
});
export type AnalysisPlan = z.output<typeof AnalysisPlan>;

const setupFields = {
  /** What gives the bath its strength, where additions of it are planned by calculation. */
  solute: Solute.nullable(),
  /** What stands in the tank at the mark, and how much may stand above it. */
  fullVolumeL: Positive(1e7),
  freeboardL: Quantity(1e6),
  workingTemperatureC: TemperatureC,
  /** The coldest the tank gets: nothing may crystallise there. */
  coldestTemperatureC: TemperatureC.nullable(),
  /** The component that grows as carbonate or dissolved metal and is cut by decanting, with its aim in g/L. */
  impurity: z.object({ component: ComponentKey, aimGramsPerLitre: Positive(1000) }).nullable(),
  /** Liquid that a square metre carries out. */
  dragOutLPerM2: Quantity(10),
  /** An addition above this share of the bath needs a second analysis; a tenth where it is not said. */
  secondAnalysisAboveShare: z.number().gt(0).max(1).optional(),
  components: z.array(BathComponent).max(20),
  plans: z.array(AnalysisPlan).max(10),
};
export const BathSetup = z
  .object({ revision: z.int(), ...setupFields, reason: z.string(), setBy: z.string(), setAt: Instant })
  .meta({ id: 'BathSetup' });
export type BathSetup = z.output<typeof BathSetup>;

const limitsRise = ({ stopLow, low, target, high, stopHigh }: BathComponent): boolean => {
  const given = [stopLow, low, target, high, stopHigh].filter((limit) => limit !== null);
  return given.every((limit, index) => index === 0 || limit >= (given[index - 1] ?? limit));
};
export const NewBathSetup = z
  .strictObject({ ...setupFields, reason: Line(500) })
  .superRefine(({ components, plans, impurity }, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    const keys = components.map(({ key }) => key);
    components.forEach((component, index) => {
      if (keys.indexOf(component.key) !== index) fault(['components', index, 'key'], 'is listed twice');
      if (!limitsRise(component))
        fault(['components', index, 'low'], 'limits must rise: stop low, low, target, high, stop high');
      const perLitre = component.unit === 'gramsPerLitre' || component.unit === 'molPerLitre';
      if (perLitre && component.referenceTemperatureC === null)
        fault(['components', index, 'referenceTemperatureC'], 'must be given for an amount in a litre');
    });
    plans.forEach((plan, index) => {
      const missing = plan.components.findIndex((key) => !keys.includes(key));
      if (missing >= 0) fault(['plans', index, 'components', missing], 'is not a component of this bath');
      const intervals = [plan.everyDays, plan.everyLoads, plan.everyAreaM2, plan.everyAmpereHours];
      if (intervals.every((interval) => interval === null))
        fault(['plans', index, 'everyDays'], 'give at least one of days, loads, area and ampere-hours');
    });
    if (impurity !== null && !keys.includes(impurity.component))
      fault(['impurity', 'component'], 'is not a component of this bath');
  });
export type NewBathSetup = z.output<typeof NewBathSetup>;
