import { z } from 'zod';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Count, Id, Instant, Line, PathId, Text } from '../kernel/scalars.ts';

export const CharacteristicKind = z.enum([
  'visual',
  'colour',
  'thickness',
  'seal',
  'adhesion',
  'dimension',
  'corrosion',
  'other',
]);
export type CharacteristicKind = z.output<typeof CharacteristicKind>;

export const characteristicKindNames: Record<CharacteristicKind, string> = {
  visual: 'visual',
  colour: 'colour',
  thickness: 'thickness',
  seal: 'seal',
  adhesion: 'adhesion',
  dimension: 'dimension',
  corrosion: 'corrosion',
  other: 'other',
};

/** Inspection levels and limits of quality as MIL-STD-105E prints them; calc knows which plans they give. */
export const InspectionLevelName = z.enum(['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III']);
// prettier-ignore
export const AqlName = z.enum([
  '0.010', '0.015', '0.025', '0.040', '0.065', '0.10', '0.15', '0.25', '0.40', '0.65', '1.0', '1.5', '2.5', '4.0', '6.5', '10',
]);

/** What a sample is drawn by; null where every piece is inspected. */
export const Sampling = z
  .strictObject({
    level: InspectionLevelName,
    aql: AqlName,
    /** Most that the samples of the last ten lots together may hold for reduced inspection; null where that is not agreed. */
    limitNumber: z.int().min(0).max(1000).nullable(),
  })
  .nullable();

const characteristic = {
  name: Line(100),
  kind: CharacteristicKind,
  method: Line(300),
  /** What it is measured with, in words. */
  instrument: Text(200),
  acceptance: Line(500),
  sampling: Sampling,
};
export const SeverityName = z.enum(['normal', 'tightened', 'reduced', 'stopped']);
export type SeverityName = z.output<typeof SeverityName>;

export const SeverityMove = z
  .object({
    was: SeverityName,
    severity: SeverityName,
    because: z.string(),
    /** The lot whose inspection moved it; null where a person took inspection up again. */
    lot: z.object({ id: Id, number: z.string() }).nullable(),
    by: z.string(),
    at: Instant,
  })
  .meta({ id: 'SeverityMove' });
export const Characteristic = z
  .object({ id: Id, ...characteristic, severity: SeverityName, moves: z.array(SeverityMove) })
  .meta({ id: 'InspectionCharacteristic' });
export type Characteristic = z.output<typeof Characteristic>;

export const InspectionPlan = z
  .object({
    /** Null while nobody has written one. */
    revision: z.int().nullable(),
    note: z.string(),
    setBy: z.string().nullable(),
    setAt: Instant.nullable(),
    characteristics: z.array(Characteristic),
  })
  .meta({ id: 'InspectionPlan' });
export type InspectionPlan = z.output<typeof InspectionPlan>;

export const getInspectionPlan = defineQuery({
  name: 'getInspectionPlan',
  tags: ['quality'],
  path: '/parts/:id/inspection-plan',
  access: 'lots.read',
  summary: 'How lots of a part are inspected, at which severity now, and why',
  params: { id: PathId },
  reply: InspectionPlan,
});
export const setInspectionPlan = defineCommand({
  name: 'setInspectionPlan',
  tags: ['quality'],
  method: 'PUT',
  path: '/parts/:id/inspection-plan',
  access: 'inspection.write',
  summary: 'Write the next revision of the inspection plan of a part',
  params: { id: PathId },
  body: z.strictObject({
    /** The revision it follows, null for the first: two people at once do not overwrite each other. */
    follows: z.int().min(1).nullable(),
    note: Line(500),
    characteristics: z
      .array(z.strictObject(characteristic))
      .max(40)
      .refine((all) => new Set(all.map(({ name }) => name.toLowerCase())).size === all.length, {
        message: 'must have different names',
      }),
  }),
  reply: InspectionPlan,
  proof: 'signature',
});
export const resumeInspection = defineCommand({
  name: 'resumeInspection',
  tags: ['quality'],
  path: '/parts/:id/inspection-plan/resume',
  access: 'inspection.write',
  summary: 'Take a discontinued inspection up again, on tightened, once the process is put right',
  params: { id: PathId },
  body: z.strictObject({ name: Line(100), reason: Line(1000) }),
  reply: InspectionPlan,
  proof: 'signature',
});

export const InspectionRecord = z
  .object({
    id: Id,
    name: z.string(),
    lotSize: Count,
    severity: SeverityName.nullable(),
    letter: z.string().nullable(),
    planTable: z.string().nullable(),
    sampleSize: Count,
    ac: Count,
    re: Count,
    inspected: Count,
    found: Count,
    verdict: z.enum(['accepted', 'rejected']),
    isScreening: z.boolean(),
    instrument: z.string().nullable(),
    /** Its calibration was overdue when it was inspected with. */
    instrumentOverdue: z.boolean(),
    notes: z.string(),
    inspectedBy: z.string(),
    inspectedAt: Instant,
  })
  .meta({ id: 'InspectionRecord' });
export type InspectionRecord = z.output<typeof InspectionRecord>;

/** What is inspected of a lot before its final check. */
export const LotInspection = z
  .object({
    planRevision: z.int().nullable(),
    /** Pieces that came off the last step. */
    lotSize: Count,
    characteristics: z.array(
      Characteristic.extend({
        /** What the tables ask for now; null where every piece is looked at, or nothing waits. */
        asked: z
          .object({
            letter: z.string(),
            inspect: Count,
            ac: Count,
            re: Count,
            planTable: z.string(),
            flags: z.array(z.string()),
          })
          .nullable(),
        /** What was found on the traveler in force; the screening after a rejected sample last. */
        records: z.array(InspectionRecord),
      }),
    ),
    /** Records of travelers before this one. */
    earlier: z.array(InspectionRecord),
    /** What stands in the way of accepting pieces. */
    missing: z.array(z.string()),
  })
  .meta({ id: 'LotInspection' });
export type LotInspection = z.output<typeof LotInspection>;

export const getLotInspection = defineQuery({
  name: 'getLotInspection',
  tags: ['quality'],
  path: '/lots/:id/inspection',
  access: 'lots.read',
  summary: 'What is inspected of a lot, how many pieces of it, and what was found',
  params: { id: PathId },
  reply: LotInspection,
});
export const inspectLot = defineCommand({
  name: 'inspectLot',
  tags: ['quality'],
  path: '/lots/:id/inspection',
  access: 'inspection.write',
  summary: 'Write down what was found of one characteristic: the severity of the next lot follows',
  params: { id: PathId },
  body: z.strictObject({
    characteristicId: Id,
    inspected: z.int().min(1).max(1_000_000),
    found: Count,
    /** Every piece, after the sample was rejected. */
    isScreening: z.boolean(),
    instrumentId: Id.nullable(),
    notes: Text(1000),
  }),
  reply: LotInspection,
  status: 201,
  proof: 'signature',
});
