import type { LookBackTie } from '@huelot/contracts';

/** Where what binds a lot is shown. */
export const tieAddress = ({ kind, id }: Pick<LookBackTie, 'kind' | 'id'>, lotId: number): string => {
  switch (kind) {
    case 'analysis':
      return `/lab/analyses/${id}`;
    case 'addition':
      return `/lab/additions/${id}`;
    case 'evidence':
      return `/recipes/${id}`;
    case 'colour-reading':
      return `/lots/${lotId}`;
    case 'step':
    case 'reading':
      return `/lots/${lotId}/trace`;
  }
};
