import { capitalise } from '$lib/format/capitalise.ts';
import type { BaseMetal, Evidence } from '@huelot/contracts';
import { BaseMetal as metals, baseMetalNames } from '@huelot/contracts';

/** What each mark says about a figure. */
export const evidenceWords: Record<Evidence, string> = {
  P: 'read in the source named',
  'P-model': 'computed from a published model',
  D: 'derived from published figures',
  C: 'common practice, no source',
  M: 'from memory: check before relying on it',
  shop: "the shop's own figure",
};

export const metalName = (metal: BaseMetal): string => capitalise(baseMetalNames[metal]);

export const metalOptions = metals.options.map((value) => ({ value, label: metalName(value) }));
