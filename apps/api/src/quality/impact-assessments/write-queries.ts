import type { AssessedLotFacts, LetterFacts, LookBackTie } from '@huelot/contracts';
import type { Queryable } from '../../db/client.ts';
import type { EntryRow } from './queries.ts';

export interface NewAssessment {
  number: string;
  about: string | null;
  aboutName: string;
  fromDay: Date | null;
  toDay: Date | null;
  causeKind: string | null;
  causeId: number | null;
  reason: string;
  ownerId: number;
  dueOn: Date;
  openedById: number;
}
export const addAssessment = (db: Queryable, data: NewAssessment) =>
  db.prisma.impactAssessment.create({ data, select: { id: true } });

export const addLots = (
  db: Queryable,
  rows: {
    assessmentId: number;
    lotId: number;
    facts: AssessedLotFacts;
    ties: LookBackTie[];
    why: string;
    addedById: number;
  }[],
) => db.prisma.assessmentLot.createMany({ data: rows });

export interface NewEntry {
  assessmentId: number;
  kind: EntryRow['kind'];
  text: string;
  byId: number;
  lotId?: number;
  customerId?: number;
  affected?: boolean;
  nonconformanceId?: number;
}
export const addEntries = (db: Queryable, rows: NewEntry[]) =>
  db.prisma.assessmentEntry.createMany({ data: rows });

export const addLetter = (
  db: Queryable,
  data: {
    number: string;
    assessmentId: number;
    customerId: number;
    facts: LetterFacts;
    attention: string;
    found: string;
    asked: string;
    jobTitle: string;
    signedById: number;
  },
) => db.prisma.assessmentLetter.create({ data, select: { id: true, signedAt: true } });

export const changeAssessment = (
  db: Queryable,
  id: number,
  data: { ownerId?: number; dueOn?: Date; state?: 'closed' },
) => db.prisma.impactAssessment.update({ where: { id }, data, select: { id: true } });

export const addDismissal = (
  db: Queryable,
  data: { causeKind: string; causeId: number; title: string; reason: string; dismissedById: number },
) => db.prisma.assessmentDismissal.create({ data, select: { id: true } });
