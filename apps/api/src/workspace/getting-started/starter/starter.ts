import type { Evidence, StarterRow } from '@huelot/contracts';

/** One row of a starter set: the record it becomes, and how far it can be trusted. */
export interface Starter<Facts> {
  key: string;
  facts: Facts;
  source: string;
  evidence: Evidence;
}

export type Figures = StarterRow['figures'];

export const exampleSize = 'an example, no source: put the figures of your own in';
