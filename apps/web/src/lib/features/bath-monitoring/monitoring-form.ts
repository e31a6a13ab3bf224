import type {
  AnalysisPlan,
  BathComponent,
  BathSetup,
  ComponentUnit,
  NewBathSetup,
  Solute,
  Tank,
  TankContents,
} from '@huelot/contracts';

type Typed<T> = { [K in keyof T]: number extends T[K] ? T[K] | null : T[K] };

export type WatchValues = Omit<
  NewBathSetup,
  'fullVolumeL' | 'freeboardL' | 'workingTemperatureC' | 'dragOutLPerM2' | 'impurity'
> & {
  fullVolumeL: number | null;
  freeboardL: number | null;
  workingTemperatureC: number | null;
  dragOutLPerM2: number | null;
  impurity: Typed<NonNullable<NewBathSetup['impurity']>> | null;
};

const componentOf = (input: {
  key: string;
  name?: string;
  unit: ComponentUnit;
  referenceTemperatureC?: number;
}): BathComponent => ({
  key: input.key,
  name: input.name ?? input.key,
  unit: input.unit,
  referenceTemperatureC: input.referenceTemperatureC ?? null,
  target: null,
  low: null,
  high: null,
  stopLow: null,
  stopHigh: null,
});
export const emptyComponent = (): BathComponent => componentOf({ key: '', name: '', unit: 'gramsPerLitre' });

const gramsPerLitre = (key: string, name: string) =>
  componentOf({ key, name, unit: 'gramsPerLitre', referenceTemperatureC: 20 });
const share = (key: string, name: string) => componentOf({ key, name, unit: 'massFraction' });
const look = componentOf({ key: 'appearance', name: 'Colour and look', unit: 'judgement' });
const acidity = componentOf({ key: 'pH', unit: 'pH' });
const conducts = componentOf({ key: 'conductivity', name: 'Conductivity', unit: 'siemensPerM' });

/** What is usually watched by what a tank holds. Common practice, no source; limits are the shop's own. */
const usual: Partial<Record<TankContents, { solute: Solute | null; components: BathComponent[] }>> = {
  'hot-caustic': {
    solute: 'KOH',
    components: [share('KOH', 'KOH'), share('K2CO3', 'Carbonate as K₂CO₃'), gramsPerLitre('Fe', 'Iron')],
  },
  'alkaline-etch': { solute: 'NaOH', components: [share('NaOH', 'NaOH'), gramsPerLitre('Al', 'Aluminium')] },
  'sulfuric-anodize': {
    solute: 'H2SO4',
    components: [gramsPerLitre('H2SO4', 'Free sulfuric acid'), gramsPerLitre('Al', 'Aluminium')],
  },
  'dilute-acid': { solute: 'H2SO4', components: [gramsPerLitre('H2SO4', 'Sulfuric acid'), conducts] },
  'mild-salt': { solute: 'Na3PO4', components: [gramsPerLitre('Na3PO4', 'Na₃PO₄'), acidity, conducts] },
  phosphoric: { solute: 'H3PO4', components: [gramsPerLitre('H3PO4', 'Phosphoric acid')] },
  dye: { solute: null, components: [acidity, look] },
  seal: { solute: null, components: [acidity, look] },
  'alkaline-clean': { solute: null, components: [acidity, look] },
  'water-rinse': { solute: null, components: [conducts, acidity] },
  'hot-rinse': { solute: null, components: [conducts] },
};

export function firstValues(tank: Tank): WatchValues {
  const preset = usual[tank.contents] ?? { solute: null, components: [look] };
  return {
    solute: preset.solute,
    fullVolumeL: tank.workingVolumeL,
    freeboardL: Math.max(0, Math.floor((tank.geometricVolumeL - tank.workingVolumeL) / 2)),
    workingTemperatureC: tank.temperatureMinC ?? tank.temperatureMaxC,
    coldestTemperatureC: null,
    impurity: null,
    dragOutLPerM2: null,
    components: preset.components.map((component) => ({ ...component })),
    plans: [],
    reason: 'first monitoring plan of this bath',
  };
}

export const valuesOf = ({ revision: _, setBy: _by, setAt: _at, ...setup }: BathSetup): WatchValues => ({
  ...setup,
  reason: '',
});

/** A plan by days for components that no plan names yet; its key is one that is not taken. */
export function newPlan(components: readonly string[], plans: readonly AnalysisPlan[]): AnalysisPlan {
  const unplanned = components.filter((key) => !plans.some((plan) => plan.components.includes(key)));
  const wanted = unplanned.length > 0 ? unplanned : [...components];
  const taken = plans.map(({ key }) => key);
  let key = wanted[0] ?? 'plan';
  for (let count = 2; taken.includes(key); count += 1) key = `${wanted[0] ?? 'plan'}-${count}`;
  return {
    key,
    components: wanted,
    methodId: null,
    everyDays: 7,
    everyLoads: null,
    everyAreaM2: null,
    everyAmpereHours: null,
  };
}
