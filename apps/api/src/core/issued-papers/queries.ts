import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

/** The record that a paper is of: `recordId` is that of the quotation revision, of the traveler, the certificate, the delivery note, the invoice or the letter. */
export interface PaperOf {
  kind:
    | 'quotation'
    | 'traveler'
    | 'certificate'
    | 'delivery-note'
    | 'invoice'
    | 'credit-note'
    | 'invoice-file'
    | 'customer-letter';
  recordId: number;
}

/** The last issue of a paper, or `null` before the first. */
export const readLastPaper = (db: Queryable, { kind, recordId }: PaperOf) =>
  db.prisma.issuedPaper.findFirst({ where: { kind, recordId }, orderBy: { issue: 'desc' } });

/** One issue of a paper, or `null` when there is none. */
export const readPaper = (db: Queryable, key: PaperOf & { issue: number }) =>
  db.prisma.issuedPaper.findUnique({ where: { kind_recordId_issue: key } });
export type PaperRow = NonNullable<Awaited<ReturnType<typeof readPaper>>>;

export interface NewPaper extends PaperOf {
  issue: number;
  title: string;
  fileName: string;
  units: 'metric' | 'us';
  shownSha256: Buffer;
  sha256: Buffer;
  bytes: Buffer;
  issuedById: number;
  issuedAt: Date;
}
export const addPaper = (db: Queryable, paper: NewPaper) =>
  db.prisma.issuedPaper.create({
    data: {
      ...paper,
      shownSha256: Uint8Array.from(paper.shownSha256),
      sha256: Uint8Array.from(paper.sha256),
      bytes: Uint8Array.from(paper.bytes),
    },
  });

/** Every issue of the papers of some records, the newest first. */
export const readPapers = (
  execute: SqlExecutor,
  { kind, recordIds }: { kind: PaperOf['kind']; recordIds: readonly number[] },
) =>
  execute<{
    id: number;
    recordId: number;
    title: string;
    issue: number;
    units: 'metric' | 'us';
    issuedAt: Date;
    issuedBy: string;
    sizeBytes: number;
    sha256: string;
  }>(sql`
    select "id", "recordId", "title", "issue", "units", "issuedAt", "snapshot" ->> 'issuedBy' as "issuedBy",
           length("bytes") as "sizeBytes", encode("sha256", 'hex') as "sha256"
      from "issued_paper" where "kind" = ${kind} and "recordId" = any(${[...recordIds]}::int[])
     order by "recordId" desc, "issue" desc`);
