import type { Material, MaterialFacts } from '@huelot/contracts';

/** A form as it is typed: a number may be missing until it is there. */
export type MaterialValues = Omit<MaterialFacts, 'densityKgPerM3' | 'heatCapacityJPerKgK'> & {
  densityKgPerM3: number | null;
  heatCapacityJPerKgK: number | null;
};

export const emptyMaterial: MaterialValues = {
  name: '',
  designation: '',
  condition: '',
  baseMetal: 'titanium',
  densityKgPerM3: null,
  heatCapacityJPerKgK: null,
  source: '',
  evidence: 'shop',
  notes: '',
};

export const valuesOf = (material: Material): MaterialValues => ({
  name: material.name,
  designation: material.designation,
  condition: material.condition,
  baseMetal: material.baseMetal,
  densityKgPerM3: material.densityKgPerM3,
  heatCapacityJPerKgK: material.heatCapacityJPerKgK,
  source: material.source,
  evidence: material.evidence,
  notes: material.notes,
});

/** What is sent. A missing figure goes as 0, which the server refuses by name. */
export const factsOf = (values: MaterialValues): MaterialFacts => ({
  ...values,
  densityKgPerM3: values.densityKgPerM3 ?? 0,
  heatCapacityJPerKgK: values.heatCapacityJPerKgK ?? 0,
});
