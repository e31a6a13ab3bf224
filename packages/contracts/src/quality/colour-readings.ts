import { z } from 'zod';
import { ColourGrade, MeasuringConditions } from '../catalog/colour-grades.ts';
import { AgreedColour } from '../catalog/colour-standards.ts';
import { ColourReadAt } from '../catalog/part-zones.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Id, Instant, Lab, Line, PathId, Text, Version } from '../kernel/scalars.ts';

/** Within the limit with its guard band; within the limit, and too close to be sure; beyond it, or by a standard that has run out. */
export const ColourVerdict = z.enum(['pass', 'warn', 'hold']);
export type ColourVerdict = z.output<typeof ColourVerdict>;

/** Reflectance, 0 to 1, at ascending wavelengths in nm. */
export const ReflectanceSpectrum = z.strictObject({
  wavelengthsNm: z.array(z.number().min(200).max(2500)).min(4).max(500),
  reflectance: z.array(z.number().min(-0.05).max(1.2)).min(4).max(500),
});

/** Where on a picture of the part: shares of its width and height, from the upper left. */
export const PictureSpot = z.strictObject({
  fileId: Id,
  x: z.number().min(0).max(1),
  y: z.number().min(0).max(1),
});

/** Expanded uncertainty (k = 2) of a reading, dE00. */
const ExpandedUncertainty = z.number().min(0.01).max(20);

/** One colour as read or found, not judged yet. */
export const NewColourReading = z
  .strictObject({
    /** Empty: the whole piece. */
    zone: Text(60),
    place: Text(120),
    spot: PictureSpot.nullable(),
    grade: ColourGrade,
    /** As the instrument shows it, under `conditions`. */
    lab: Lab.nullable(),
    /** Made CIELAB under the light and for the observer of the standard, else of `conditions`. */
    spectrum: ReflectanceSpectrum.nullable(),
    conditions: z.strictObject(MeasuringConditions.shape).nullable(),
    /** The colour meter of the lab that measured it. */
    instrumentId: Id.nullable(),
    /** Another one that a file names; empty where it is one of the lab's. */
    instrument: Text(100),
    expandedUncertainty: ExpandedUncertainty.nullable(),
    /** What two people found beside the standard. */
    outcome: ColourVerdict.nullable(),
    /** Somebody looked again: it is this lot, and the decimal sign is right. */
    confirmed: z.boolean(),
    note: Text(500),
  })
  .superRefine((reading, context) => {
    const fault = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    const { grade, lab, spectrum, conditions, expandedUncertainty, outcome } = reading;
    if (grade === 'measured') {
      if ((lab === null) === (spectrum === null)) fault('lab', 'must be given, or a spectrum instead of it');
      if (conditions === null) fault('conditions', 'must be given with what an instrument reads');
      if (reading.instrumentId === null && reading.instrument.trim() === '')
        fault('instrumentId', 'must be one of the colour meters of the lab');
      if (reading.instrumentId !== null && reading.instrument.trim() !== '')
        fault('instrument', 'must be empty where it is an instrument of the lab');
      if (expandedUncertainty === null) fault('expandedUncertainty', 'must be given: no reading is exact');
    } else if (spectrum !== null) fault('spectrum', 'is only for what an instrument read');
    if (grade !== 'measured' && reading.instrumentId !== null)
      fault('instrumentId', 'is only for what an instrument read');
    if (grade === 'compared' && outcome === null) fault('outcome', 'must say what the two people found');
    if (grade !== 'compared' && outcome !== null) fault('outcome', 'is only for what two people compared');
    if (grade === 'word' && reading.note.trim() === '') fault('note', 'must say the colour in words');
  });
export type NewColourReading = z.output<typeof NewColourReading>;

/** A difference from what was agreed, and the rule it was judged by. */
export const JudgedReading = z.object({
  deltaE: z.number(),
  dL: z.number(),
  da: z.number(),
  db: z.number(),
  limit: z.number(),
  guardFactor: z.number(),
  /** The limit less the guard band. */
  acceptanceLimit: z.number(),
  /** Probability that the true colour lies beyond the limit, 0 to 1. */
  riskBeyond: z.number(),
});
export type JudgedReading = z.output<typeof JudgedReading>;

/** A difference no drift explains: another lot, another place or a slipped decimal sign. */
export const isFarOff = ({ deltaE, limit }: Pick<JudgedReading, 'deltaE' | 'limit'>): boolean =>
  deltaE > Math.max(12, 4 * limit);

export const ColourReading = z
  .object({
    id: Id,
    zone: z.string(),
    place: z.string(),
    spot: PictureSpot.nullable(),
    grade: ColourGrade,
    lab: Lab.nullable(),
    hasSpectrum: z.boolean(),
    conditions: MeasuringConditions.nullable(),
    instrument: z.string(),
    /** Null where it is none of the lab's: a file named it, or it was typed before the lab had a list. */
    instrumentId: Id.nullable(),
    /** Its calibration was overdue when it read. */
    instrumentOverdue: z.boolean(),
    expandedUncertainty: z.number().nullable(),
    /** What it was judged against, as it stood then. */
    standard: z
      .object({
        code: z.string(),
        revision: z.int().nullable(),
        name: z.string(),
        /** It was taken over from parts, and nobody had confirmed it when the colour was read. */
        unconfirmed: z.boolean(),
      })
      .nullable(),
    judged: JudgedReading.nullable(),
    /** Null where nothing was agreed, or the grade decides nothing. */
    verdict: ColourVerdict.nullable(),
    /** The standard had run out when it was read: it is compared, and holds its lot until somebody answers for it. */
    standardExpired: z.boolean(),
    /** The file it came from; empty for one that was typed. */
    fileName: z.string(),
    note: z.string(),
    readBy: z.string(),
    /** The second of two who compared. */
    secondBy: z.string().nullable(),
    readAt: Instant,
    /** The reading that this one corrects, and why. */
    correctsId: Id.nullable(),
    reason: z.string(),
    /** It does not belong to this lot: it counts for nothing. */
    withdrawn: z.boolean(),
    /** The row that took its place. */
    correctedById: Id.nullable(),
  })
  .meta({ id: 'ColourReading' });
export type ColourReading = z.output<typeof ColourReading>;

/** What a lot was released with; `newerRevision` where its standard has been revised since. */
const AgreedOfLot = AgreedColour.extend({
  /** It has run out: what is read now is compared, and holds the lot. */
  expired: z.boolean(),
  newerRevision: z.int().nullable(),
  /** The revision the lot was released with, which has run out and was renewed by this one; null where that one counts. */
  renewed: z.object({ revision: z.int().nullable(), expiredOn: z.string().nullable() }).nullable(),
});

/** What was agreed of a lot's colour, what it was, and whether it may be accepted. */
export const LotColour = z
  .object({
    agreed: AgreedOfLot.nullable(),
    /** Places with a colour of their own; null where one has the colour of the part. */
    zones: z.array(z.object({ name: z.string(), agreed: AgreedOfLot.nullable() })),
    readAt: ColourReadAt,
    /** The guard band in force, as a factor of the expanded uncertainty. */
    guardFactor: z.number(),
    /** The colour step that readings follow; null where none is signed. */
    colourStep: z.object({ title: z.string(), doneAt: Instant, person: z.string() }).nullable(),
    /** Why pieces cannot be accepted yet; empty where nothing of colour stands in the way. */
    missing: z.string(),
    /** Pictures of the part on which places are marked. */
    pictures: z.array(z.object({ fileId: Id, caption: z.string() })),
    /** Newest first; corrected and withdrawn ones too. */
    readings: z.array(ColourReading),
  })
  .meta({ id: 'LotColour' });
export type LotColour = z.output<typeof LotColour>;

export const getLotColour = defineQuery({
  name: 'getLotColour',
  tags: ['quality'],
  path: '/lots/:id/colour',
  access: 'lots.read',
  summary: 'The colour agreed for a lot and the colour it had',
  params: { id: PathId },
  reply: LotColour,
});
export const addColourReadings = defineCommand({
  name: 'addColourReadings',
  tags: ['quality'],
  path: '/lots/:id/colour-readings',
  access: 'steps.sign',
  summary: 'Record readings of a lot; one beyond the limit puts it on hold',
  params: { id: PathId },
  body: z
    .strictObject({
      readings: z.array(NewColourReading).min(1, 'needs at least one reading').max(200),
      /** The name of the file they were imported from; empty for typed ones. */
      fileName: Text(200),
      /** Who compared beside whoever is signed in; null where nothing was compared. */
      second: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
    })
    .superRefine(({ readings, fileName }, context) => {
      if (fileName.trim() !== '') return;
      for (const [index, { grade, instrumentId, instrument }] of readings.entries())
        if (grade === 'measured' && instrumentId === null && instrument.trim() !== '')
          context.addIssue({
            ...{ code: 'custom', path: ['readings', index, 'instrumentId'] },
            message: 'must be one of the colour meters of the lab: only a file may name another',
          });
    }),
  reply: LotColour,
  status: 201,
});

/** A reading of a file, as it would be judged. */
export const PreviewedReading = z.object({
  line: z.int(),
  place: z.string(),
  zone: z.string(),
  lab: Lab,
  spectrum: ReflectanceSpectrum.nullable(),
  judged: JudgedReading.nullable(),
  verdict: ColourVerdict.nullable(),
  standardExpired: z.boolean(),
  /** Why it is not compared with the standard, of which it is under another light; empty where it can be. */
  notComparable: z.string(),
});
export const ColourFilePreview = z
  .object({
    format: z.enum(['CGATS', 'CSV']),
    instrument: z.string(),
    /** As the file states them; null where it is silent, or states what readings are not kept under. */
    stated: z.object({
      geometry: MeasuringConditions.shape.geometry.nullable(),
      illuminant: MeasuringConditions.shape.illuminant.nullable(),
      observerDeg: MeasuringConditions.shape.observerDeg.nullable(),
    }),
    readings: z.array(PreviewedReading),
    faults: z.array(z.object({ line: z.int(), message: z.string() })),
    /** Columns that were left out. */
    ignored: z.array(z.string()),
  })
  .meta({ id: 'ColourFilePreview' });
export type ColourFilePreview = z.output<typeof ColourFilePreview>;

export const previewColourFile = defineCommand({
  name: 'previewColourFile',
  tags: ['quality'],
  path: '/lots/:id/colour-file',
  access: 'steps.sign',
  summary: 'Read a CGATS.17, ISO 28178 or CSV file of an instrument and judge it, without keeping anything',
  params: { id: PathId },
  body: z.strictObject({ text: Text(1_000_000), expandedUncertainty: ExpandedUncertainty }),
  reply: ColourFilePreview,
  keyless: 'works out only',
});

export const correctColourReading = defineCommand({
  name: 'correctColourReading',
  tags: ['quality'],
  path: '/colour-readings/:id/corrections',
  access: 'steps.correct',
  summary: 'Put a reading right, or withdraw it from its lot; the old one stays beside it',
  params: { id: PathId },
  body: z.strictObject({
    /** It belongs to another lot, or to none. */
    withdrawn: z.boolean(),
    /** The right figures; null where it is withdrawn. What two people compared is withdrawn and compared again. */
    lab: Lab.nullable(),
    confirmed: z.boolean(),
    reason: Line(500),
  }),
  reply: LotColour,
  status: 201,
});

/** The guard band of the shop: how much of the uncertainty of a reading is kept inside the limit. */
export const ColourRule = z
  .object({ guardFactor: z.number().min(0).max(3), version: Version })
  .meta({ id: 'ColourRule' });
export type ColourRule = z.output<typeof ColourRule>;
export const getColourRule = defineQuery({
  name: 'getColourRule',
  tags: ['quality'],
  path: '/colour-rule',
  access: 'signed-in',
  summary: 'The guard band by which colours are judged',
  reply: ColourRule,
});
export const updateColourRule = defineCommand({
  name: 'updateColourRule',
  tags: ['quality'],
  method: 'PUT',
  path: '/colour-rule',
  access: 'setup.write',
  summary: 'Change the guard band; readings keep the one they were judged by',
  body: z.strictObject({ guardFactor: z.number().min(0).max(3) }),
  reply: ColourRule,
  versioned: true,
});
