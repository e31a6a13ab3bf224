import {
  familyMetals,
  type BaseMetal,
  type Family,
  type Recipe,
  type RecipeRevision,
} from '@huelot/contracts';

/** The head of a recipe as it is typed. */
export interface HeadValues {
  name: string;
  family: Family;
  baseMetals: BaseMetal[];
  colour: string;
  notes: string;
}

export const emptyHead: HeadValues = {
  name: '',
  family: 'interference-colour',
  baseMetals: ['titanium'],
  colour: '',
  notes: '',
};

export const headOf = (recipe: Recipe | RecipeRevision['recipe']): HeadValues => ({
  name: recipe.name,
  family: recipe.family,
  baseMetals: recipe.baseMetals,
  colour: recipe.colour,
  notes: recipe.notes,
});

/** The metals that stay when the family changes; the first of the new one when none does. */
export function metalsIn(family: Family, metals: readonly BaseMetal[]): BaseMetal[] {
  const allowed: readonly BaseMetal[] = familyMetals[family];
  const kept = metals.filter((metal) => allowed.includes(metal));
  return kept.length > 0 ? kept : allowed.slice(0, 1);
}
