import { CalcError } from '../../errors.ts';

export const malformed = (text: string, allowed: string): CalcError =>
  new CalcError({ code: 'malformed', argument: 'bytes', given: text, allowed });

export const tooMany = (facets: number | string, maxFacets: number): CalcError =>
  new CalcError({
    code: 'out-of-range',
    argument: 'bytes',
    given: `${facets} facets`,
    allowed: `at most ${maxFacets} facets`,
  });
