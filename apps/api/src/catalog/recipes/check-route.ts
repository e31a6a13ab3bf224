import {
  baseMetalNames,
  contentsNames,
  familyNames,
  findIncompatibility,
  type BaseMetal,
  type Family,
  type Step,
} from '@huelot/contracts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';

type Route = readonly Pick<Step, 'kind' | 'contents'>[];

/**
 * Refuses a route that puts one of the metals into a bath that attacks it. All such steps are named.
 *
 * @example
 * refuseForbiddenMetals(['tantalum'], [{ kind: 'clean', contents: 'hot-caustic' }]) // throws 422 at steps.0.contents
 */
export function refuseForbiddenMetals(metals: readonly BaseMetal[], route: Route): void {
  const issues = route.flatMap(({ contents }, index) =>
    contents === null
      ? []
      : metals.flatMap((baseMetal) => {
          const refusal = findIncompatibility({ baseMetal, contents });
          if (refusal === null) return [];
          const what = `${baseMetalNames[baseMetal]} must never go into ${contentsNames[contents]}`;
          return [{ path: `steps.${index}.contents`, message: `${what}: ${refusal.why}` }];
        }),
  );
  if (issues.length > 0) {
    const where = issues.map(({ path, message }) => `step ${Number(path.split('.')[1]) + 1}: ${message}`);
    throw new DomainError('invalid-input', `${where.join('. ')}.`, { issues });
  }
}

/** Refuses to approve a route that cannot give what its family is for. */
export function refuseUnfinished(family: Family, route: Route): void {
  const needed = family === 'dyed-anodize' ? 'anodize' : 'colour';
  if (!route.some(({ kind }) => kind === needed)) {
    throw fieldError('steps', `a recipe for ${familyNames[family]} needs a step of the kind ${needed}`);
  }
}
