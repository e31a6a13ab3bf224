import { BaseMetal, baseMetalNames, type NewRack, type Rack } from '@huelot/contracts';
import type { AsTyped } from '$lib/forms/typing.ts';

export type RackFacts = NewRack & { archived: boolean };
export type RackValues = AsTyped<RackFacts>;

export const metalOptions = BaseMetal.options.map((value) => ({ value, label: baseMetalNames[value] }));

export const emptyRack: RackValues = {
  code: '',
  name: '',
  baseMetal: 'titanium',
  hooks: null,
  windowWidthMm: null,
  windowHeightMm: null,
  layers: 1,
  gapMm: 20,
  maxLoadKg: null,
  massKg: 0,
  bareAreaMm2: 0,
  notes: '',
  archived: false,
};

/** What a new one is added with: it is never archived at first. */
export const newRackOf = ({ archived: _, ...rack }: RackFacts): NewRack => rack;

export const valuesOf = (rack: Rack): RackValues => ({
  code: rack.code,
  name: rack.name,
  baseMetal: rack.baseMetal,
  hooks: rack.hooks,
  windowWidthMm: rack.windowWidthMm,
  windowHeightMm: rack.windowHeightMm,
  layers: rack.layers,
  gapMm: rack.gapMm,
  maxLoadKg: rack.maxLoadKg,
  massKg: rack.massKg,
  bareAreaMm2: rack.bareAreaMm2,
  notes: rack.notes,
  archived: rack.archivedAt !== null,
});
