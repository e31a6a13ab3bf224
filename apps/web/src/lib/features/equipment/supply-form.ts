import type { NewPowerSupply, PowerSupply } from '@huelot/contracts';
import type { AsTyped } from '$lib/forms/typing.ts';

export type SupplyFacts = NewPowerSupply & { archived: boolean };
export type SupplyValues = AsTyped<SupplyFacts>;

export const emptySupply: SupplyValues = {
  code: '',
  name: '',
  maxVoltageV: null,
  maxCurrentA: null,
  efficiency: 0.85,
  notes: '',
  tankIds: [],
  archived: false,
};

/** What a new one is added with: it is never archived at first. */
export const newSupplyOf = ({ archived: _, ...supply }: SupplyFacts): NewPowerSupply => supply;

export const valuesOf = (supply: PowerSupply): SupplyValues => ({
  code: supply.code,
  name: supply.name,
  maxVoltageV: supply.maxVoltageV,
  maxCurrentA: supply.maxCurrentA,
  efficiency: supply.efficiency,
  notes: supply.notes,
  tankIds: supply.tankIds,
  archived: supply.archivedAt !== null,
});
