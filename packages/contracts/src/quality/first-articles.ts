import { z } from 'zod';
import { EvidenceKind, gradeFields, gradeFits } from '../colour/evidence.ts';
import { defineCommand } from '../kernel/http.ts';
import { Day, Id, Lab, PathId, Text } from '../kernel/scalars.ts';
import { LotEvidence } from '../production/lots.ts';

/** A passed lot as evidence of its recipe revision: an instrument's reading, or two people beside the standard. */
export const markFirstArticle = defineCommand({
  name: 'markFirstArticle',
  tags: ['quality'],
  path: '/lots/:id/first-article',
  access: 'inspection.write',
  summary:
    'Make a passed lot a first article, or a trial, of its recipe revision for its alloy and condition',
  params: { id: PathId },
  body: z
    .strictObject({
      kind: EvidenceKind.exclude(['coupons', 'elsewhere']),
      ...gradeFields,
      /** The colour meter of the lab that measured it; null for any other grade. */
      instrumentId: Id.nullable(),
      lab: z.strictObject(Lab.shape).nullable(),
      note: Text(1000),
      expiresOn: Day.nullable(),
    })
    .superRefine(gradeFits)
    .superRefine(({ grade, lab, instrumentId }, context) => {
      const fault = (path: string, message: string) =>
        context.addIssue({ code: 'custom', path: [path], message });
      if (grade === 'measured' && lab === null) fault('lab', 'is needed: a measured colour has figures');
      if (grade === 'measured' && instrumentId === null)
        fault('instrumentId', 'is needed: a measured colour names what measured it');
      if (grade !== 'measured' && instrumentId !== null)
        fault('instrumentId', 'is only for a measured colour');
      if (grade !== 'measured' && lab !== null) fault('lab', 'is only for a measured colour');
    }),
  reply: LotEvidence,
  status: 201,
  proof: 'signature',
});
