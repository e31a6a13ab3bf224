import { colourGradeNames, type CitedEvidence, type ExceptionPlace } from '@huelot/contracts';
import { capitalise } from '$lib/format/capitalise.ts';

/** `Carbon steel 1075, hardened` */
export const alloyText = ({ name, condition }: { name: string; condition: string }): string =>
  [name, condition].filter(Boolean).join(', ');

/** How its colour is known, with the two people who compared it. */
export const gradeText = ({ grade, comparedBy }: Pick<CitedEvidence, 'grade' | 'comparedBy'>): string =>
  comparedBy.length === 0
    ? capitalise(colourGradeNames[grade])
    : `${capitalise(colourGradeNames[grade])}: ${comparedBy.join(' and ')}`;

export const placeNames: Record<ExceptionPlace, string> = {
  approval: 'Approval',
  quotation: 'Quotation',
  release: 'Release',
  signature: 'Signature',
};
