import { z } from 'zod';
import { EvidenceKind, gradeFields, gradeFits } from '../colour/evidence.ts';
import { defineCommand } from '../kernel/http.ts';
import { Day, Lab, PathId, Text } from '../kernel/scalars.ts';
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
      /** What measured it; empty for any other grade. */
      instrument: Text(100),
      lab: z.strictObject(Lab.shape).nullable(),
      note: Text(1000),
      expiresOn: Day.nullable(),
    })
    .superRefine(gradeFits)
    .superRefine(({ grade, lab, instrument }, context) => {
      const fault = (path: string, message: string) =>
        context.addIssue({ code: 'custom', path: [path], message });
      if (grade === 'measured' && lab === null) fault('lab', 'is needed: a measured colour has figures');
      if (grade === 'measured' && instrument.trim() === '')
        fault('instrument', 'is needed: a measured colour names what measured it');
      if (grade !== 'measured' && lab !== null) fault('lab', 'is only for a measured colour');
    }),
  reply: LotEvidence,
  status: 201,
  proof: 'signature',
});
