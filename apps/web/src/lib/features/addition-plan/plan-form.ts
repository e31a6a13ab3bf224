import { molarMass } from '@huelot/calc';
import type {
  AdditionKind,
  AdditionRequest,
  AdditionSheet,
  AnalysisResult,
  BathSetup,
  ChemicalLot,
  PlannedStep,
  Solute,
} from '@huelot/contracts';
import type { Typed } from '../analysis-entry/typed-readings.ts';

export type TypedRequest = Typed<AdditionRequest>;
export type TypedStrength = Extract<TypedRequest, { type: 'strength' }>;
export type TypedLevel = Extract<TypedRequest, { type: 'level' }>;
export type TypedStep = Typed<PlannedStep>;

export interface PlanValues {
  kind: AdditionKind;
  fromAnalysisId: number | null;
  request: TypedRequest | null;
  /** Null takes the computed steps. */
  steps: TypedStep[] | null;
  reason: string;
}

const roomC = 20;
/** Of a level that is read off a dip stick, as a share of the mark. Common practice, no source. */
const levelShare = 0.01;

/** Lots that can be taken for a solute: the one that expires first on top, those past their date last. */
export const lotsFor = (lots: readonly ChemicalLot[], solute: Solute | null): ChemicalLot[] =>
  lots
    .filter((lot) => lot.status === 'open' && lot.balanceKg > 0 && lot.solute === solute)
    .toSorted((one, other) => Number(one.expired) - Number(other.expired));

const latestOf = (sheet: AdditionSheet, component: string): AnalysisResult | undefined =>
  sheet.latest.find((result) => result.component === component);

function targetOf(
  setup: BathSetup,
): Pick<TypedStrength, 'targetMassFraction' | 'targetGramsPerLitre' | 'referenceTemperatureC'> {
  const watched = setup.components.find(({ key }) => key === setup.solute);
  const target = watched?.target ?? null;
  const perLitre = watched?.unit === 'gramsPerLitre' || watched?.unit === 'molPerLitre';
  if (!watched || !perLitre)
    return { targetMassFraction: target, targetGramsPerLitre: null, referenceTemperatureC: null };
  const mass = watched.unit === 'molPerLitre' && setup.solute ? molarMass[setup.solute] : 1;
  return {
    targetMassFraction: null,
    targetGramsPerLitre: target === null ? null : target * mass,
    referenceTemperatureC: watched.referenceTemperatureC ?? roomC,
  };
}

/** What the strength plan starts from: the latest analysis, the setup, and the lot to use up first. */
function strengthRequest(sheet: AdditionSheet, setup: BathSetup, makeUp: boolean): TypedStrength | null {
  if (setup.solute === null) return null;
  const found = makeUp ? null : sheet.strength;
  const expected = makeUp ? null : sheet.expected;
  const impurity = setup.impurity && !makeUp ? impurityOf(sheet, setup.impurity) : null;
  return {
    type: 'strength',
    solute: setup.solute,
    volumeL: makeUp ? 0 : (expected?.volumeL ?? found?.volumeL ?? setup.fullVolumeL),
    fullVolumeL: setup.fullVolumeL,
    freeboardL: setup.freeboardL,
    temperatureC: makeUp ? roomC : setup.workingTemperatureC,
    massFraction: makeUp ? 0 : (expected?.massFraction ?? found?.massFraction ?? null),
    densityRatio: found?.densityRatio ?? null,
    ...targetOf(setup),
    chemicalLotId: lotsFor(sheet.lots, setup.solute).find(({ expired }) => !expired)?.id ?? null,
    fillToMark: true,
    impurity,
    coldestTemperatureC: setup.coldestTemperatureC,
    uncertainty:
      found?.standardUncertainty == null
        ? null
        : { massFraction: found.standardUncertainty, volumeL: levelShare * setup.fullVolumeL },
  };
}

/** Asked for from the start only where the impurity is above its working range. */
function impurityOf(
  sheet: AdditionSheet,
  { component, aimGramsPerLitre }: NonNullable<BathSetup['impurity']>,
): TypedStrength['impurity'] {
  const result = latestOf(sheet, component);
  const gramsPerLitre = impurityNow(sheet, result);
  const high = result?.limits.high ?? null;
  const tooMuch = result && high !== null && result.value * (sheet.expected?.dilution ?? 1) > high;
  return tooMuch && gramsPerLitre !== null ? { gramsPerLitre, targetGramsPerLitre: aimGramsPerLitre } : null;
}

/** As it was last found, less what decants and water have taken off it since. */
function impurityNow(sheet: AdditionSheet, result: AnalysisResult | undefined): number | null {
  const found = result?.unit === 'gramsPerLitre' ? result.value : (result?.gramsPerLitre ?? null);
  return found === null ? null : found * (sheet.expected?.dilution ?? 1);
}

/** The impurity as it was last found, to be brought down when somebody asks for it. */
export function impurityToCut(sheet: AdditionSheet): TypedStrength['impurity'] {
  const watched = sheet.setup?.impurity;
  if (!watched) return null;
  const gramsPerLitre = impurityNow(sheet, latestOf(sheet, watched.component));
  // A decant only brings down.
  return gramsPerLitre === null || gramsPerLitre <= watched.aimGramsPerLitre
    ? null
    : { gramsPerLitre, targetGramsPerLitre: watched.aimGramsPerLitre };
}

function levelRequest(sheet: AdditionSheet, setup: BathSetup): TypedLevel {
  const watched = setup.components.find(({ key }) => key === setup.solute);
  const whenFull = watched?.unit === 'massFraction' ? watched.target : null;
  return {
    type: 'level',
    solute: setup.solute,
    volumeL: null,
    fullVolumeL: setup.fullVolumeL,
    temperatureC: setup.workingTemperatureC,
    massFractionWhenFull: setup.solute === null ? null : (whenFull ?? sheet.strength?.massFraction ?? null),
  };
}

export const handStep = (action: PlannedStep['action']): TypedStep => ({
  action,
  chemicalLotId: null,
  kg: null,
  volumeL: null,
  portions: 1,
  riseK: null,
  heldBack: false,
  note: '',
});

const handActions: Partial<Record<AdditionKind, PlannedStep['action']>> = {
  chemical: 'add-stock',
  'make-up': 'add-stock',
  decant: 'decant',
  filter: 'filter',
  dye: 'add-stock',
  electrode: 'electrode',
};

/** A plan of this kind as it begins: computed where there is something to compute, otherwise steps by hand. */
export function planOfKind(sheet: AdditionSheet, kind: AdditionKind): Omit<PlanValues, 'fromAnalysisId'> {
  const { setup } = sheet;
  const request =
    setup === null
      ? null
      : kind === 'water'
        ? levelRequest(sheet, setup)
        : kind === 'chemical' || kind === 'make-up'
          ? strengthRequest(sheet, setup, kind === 'make-up')
          : null;
  const steps = request === null ? [handStep(handActions[kind] ?? 'add-water')] : null;
  return { kind, request, steps, reason: '' };
}

/** The analysis that a plan is computed from: the one that found the strength. */
export const sourceAnalysis = (sheet: AdditionSheet): number | null =>
  sheet.strength?.analysisId ?? sheet.latest[0]?.analysisId ?? null;
