import { selfApprovalStatement } from '@huelot/contracts';

/**
 * A recipe as a record names it, with how it was approved where no second person did.
 *
 * @example
 * recipeWords({ number: 'R-00001', name: 'Blue', revision: 2 }) // 'R-00001 Blue, revision 2'
 */
export const recipeWords = ({
  number,
  name,
  revision,
  selfApproved = false,
}: {
  number: string;
  name: string;
  revision: number;
  selfApproved?: boolean | undefined;
}): string => `${number} ${name}, revision ${revision}${selfApproved ? `, ${selfApprovalStatement}` : ''}`;
