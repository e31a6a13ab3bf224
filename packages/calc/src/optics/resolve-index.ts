import { checkName } from '../check.ts';
import { checkIndex } from './check-stack.ts';
import type { OpticalIndex } from './constant-set.ts';
import { type ConstantSetName, constantSets } from './constant-sets.ts';

export const constantSetNames = Object.keys(constantSets) as ConstantSetName[];

/** The constants of a name, or the index handed in, checked. */
export function resolveIndex(argument: string, input: ConstantSetName | OpticalIndex): OpticalIndex {
  if (typeof input === 'object') return checkIndex(argument, input);
  return constantSets[checkName(argument, input, constantSetNames)];
}
