import { checkName, checkNumber } from '../check.ts';
import { type SolidMaterial, specificHeat } from './data/materials.ts';

/** A tank shell, a rack or a load of work. */
export interface SolidBody {
  material: SolidMaterial;
  kg: number;
}

/** What one kelvin takes, J/K, of a body named `argument` in errors. */
export function bodyJPerK(argument: string, { material, kg }: SolidBody): number {
  const known = checkName(`${argument}.material`, material, Object.keys(specificHeat) as SolidMaterial[]);
  return specificHeat[known] * checkNumber(`${argument}.kg`, kg, { min: 0, max: 1e6 });
}
