import { z } from 'zod';
import { Line } from '../kernel/scalars.ts';

/** Draft -> approved by a second person -> superseded by the next approved revision, or retired. */
export const RevisionStatus = z.enum(['draft', 'approved', 'superseded', 'retired']);
export type RevisionStatus = z.output<typeof RevisionStatus>;

/** What stands wherever the approval of an author is shown. */
export const selfApprovalStatement = 'approved by its author, no second person';

/**
 * Who approves a draft, for whoever asks: as the second person, as its author because nobody else may, or not at all.
 * `words` say why not, and what can be done about it.
 */
export const Approval = z
  .object({ as: z.enum(['second-person', 'author', 'nobody']), words: z.string() })
  .meta({ id: 'Approval' });
export type Approval = z.output<typeof Approval>;

/** The signature of an approval; an author signs with their name typed out. */
export const ApprovalBody = z.strictObject({ typedName: Line(120).optional() });
