import { checkName } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type ConstantSetName, constantSets } from './constant-sets.ts';
import { constantSetNames } from './resolve-index.ts';
import {
  aluminiumSystem,
  type FilmSystem,
  niobiumSystem,
  steelSystem,
  tantalumSystem,
  titaniumSystem,
  zirconiumSystem,
} from './systems.ts';

const namedSystems = {
  titanium: titaniumSystem,
  niobium: niobiumSystem,
  tantalum: tantalumSystem,
  zirconium: zirconiumSystem,
  steel: steelSystem,
  aluminium: aluminiumSystem,
} as const satisfies Record<string, FilmSystem>;

export type SystemName = keyof typeof namedSystems;

/** A metal with its default constants, or two constant sets by name. */
export type System = SystemName | { film: ConstantSetName; substrate: ConstantSetName };

export const systemNames = Object.keys(namedSystems) as SystemName[];

export function resolveSystem(system: System): FilmSystem {
  if (typeof system === 'string') return namedSystems[checkName('system', system, systemNames)];
  return {
    film: resolveSet('system.film', system.film, 'oxide'),
    substrate: resolveSet('system.substrate', system.substrate, 'metal'),
  };
}

function resolveSet(argument: string, input: ConstantSetName, role: 'oxide' | 'metal') {
  const set = constantSets[checkName(argument, input, constantSetNames)];
  if (set.role === role) return set;
  const allowed = constantSetNames.filter((name) => constantSets[name].role === role).join(', ');
  throw new CalcError({ code: 'impossible', argument, given: input, allowed });
}
