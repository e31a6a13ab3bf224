import type { NewTank, Tank } from '@huelot/contracts';
import type { AsTyped } from '$lib/forms/typing.ts';

export type TankFacts = NewTank & { archived: boolean };
export type TankValues = AsTyped<TankFacts>;

export const emptyTank: TankValues = {
  code: '',
  name: '',
  kind: 'immersion',
  contents: 'water-rinse',
  insideLengthMm: null,
  insideWidthMm: null,
  insideDepthMm: null,
  workingVolumeL: null,
  heaterKw: 0,
  coolerKw: 0,
  cover: 'none',
  temperatureMinC: null,
  temperatureMaxC: null,
  lineOrder: 0,
  notes: '',
  archived: false,
};

/** What a new one is added with: it is never archived at first. */
export const newTankOf = ({ archived: _, ...tank }: TankFacts): NewTank => tank;

export const valuesOf = (tank: Tank): TankValues => ({
  code: tank.code,
  name: tank.name,
  kind: tank.kind,
  contents: tank.contents,
  insideLengthMm: tank.insideLengthMm,
  insideWidthMm: tank.insideWidthMm,
  insideDepthMm: tank.insideDepthMm,
  workingVolumeL: tank.workingVolumeL,
  heaterKw: tank.heaterKw,
  coolerKw: tank.coolerKw,
  cover: tank.cover,
  temperatureMinC: tank.temperatureMinC,
  temperatureMaxC: tank.temperatureMaxC,
  lineOrder: tank.lineOrder,
  notes: tank.notes,
  archived: tank.archivedAt !== null,
});

/** The inside of a tank and the liquid in it, once everything is typed and fits; null until then. */
export function insideOf(values: Pick<TankValues, SizeKey>): Record<SizeKey, number> | null {
  const { insideLengthMm, insideWidthMm, insideDepthMm, workingVolumeL } = values;
  if (!insideLengthMm || !insideWidthMm || !insideDepthMm) return null;
  return { insideLengthMm, insideWidthMm, insideDepthMm, workingVolumeL: workingVolumeL ?? 0 };
}
type SizeKey = 'insideLengthMm' | 'insideWidthMm' | 'insideDepthMm' | 'workingVolumeL';
