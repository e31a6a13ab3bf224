import type { SignOff, Traveler } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { type PrintedTraveler, travelerPdf } from '../../documents/traveler-pdf.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepPaper, type PaperRow, readPaper, viewPapers } from '../../core/issued-papers/index.ts';
import * as queries from './queries.ts';

const kind = 'traveler';
const toFile = ({ fileName, bytes }: PaperRow) => ({ name: fileName, file: Buffer.from(bytes) });

interface Print {
  actor: Actor;
  id: number;
  publicUrl: string;
}

/**
 * The paper of a traveler as it has to be now. The first is the paper as issued, whenever it is asked for. While nothing
 * happened that a paper shows, whoever prints gets the bytes of the last; a signature or a hold since makes the next.
 */
export function printTraveler(
  db: Db,
  { actor, id, publicUrl }: Print,
): Promise<{ name: string; file: Buffer }> {
  return inTransaction(db, async (tx) => {
    const { shop, issuedById } = orNotFound(await queries.lockIssue(tx.execute, id), `traveler ${id}`);
    const traveler = orNotFound(await queries.readTraveler(tx.execute, id), `traveler ${id}`);
    const finalChecks = await queries.readFinalChecks(tx.execute, id);
    const { number, revision, issuedBy, issuedAt } = traveler;
    const keep = async (printed: PrintedTraveler, by: { id: number; name: string; at: string }) => {
      const shows = { traveler: printed, shop, publicUrl };
      const { paper, added } = await keepPaper(tx, {
        kind,
        recordId: id,
        title: `Traveler ${number} revision ${revision}`,
        fileName: `${number}-rev-${revision}.pdf`,
        units: shop.units,
        issuedById: by.id,
        issuedAt: new Date(by.at),
        shows,
        draw: (issue) => travelerPdf({ ...shows, issue: { number: issue, at: by.at, by: by.name } }),
      });
      if (added)
        await writeAudit(tx.execute, actor, {
          kind: 'traveler',
          id,
          number: `${number} rev ${revision}`,
          action: paper.issue === 1 ? 'printed as issued' : `printed again, print ${paper.issue}`,
        });
      return paper;
    };
    if ((await readPaper(tx, { kind, recordId: id, issue: 1 })) === null)
      await keep(asIssued(traveler), { id: issuedById, name: issuedBy, at: issuedAt });
    const now = { id: actor.personId, name: actor.displayName, at: new Date().toISOString() };
    return toFile(
      await keep({ ...asItStands(traveler), ...(finalChecks.length > 0 ? { finalChecks } : {}) }, now),
    );
  });
}

/** One issue as it was printed. */
export const readIssue = async (db: Db, { id, issue }: { id: number; issue: number }) =>
  toFile(orNotFound(await readPaper(db, { kind, recordId: id, issue }), `print ${issue} of traveler ${id}`));

/** The papers that were printed of a traveler. */
export async function listPapers(db: Db, id: number) {
  orNotFound(await queries.readTraveler(db.execute, id), `traveler ${id}`);
  return viewPapers(db.execute, {
    kind,
    recordIds: [id],
    pathOf: ({ issue }) => `/travelers/${id}/papers/${issue}/pdf`,
  });
}

/** What the paper showed when the traveler was issued: nothing that was signed, put on hold or superseded since. */
function asIssued(traveler: Traveler): PrintedTraveler {
  const until = (at: string) => Date.parse(at) <= Date.parse(traveler.issuedAt);
  const printed = asItStands(traveler);
  const steps = printed.steps.map((step, index) => {
    const { signOff } = step;
    if (signOff === null || traveler.steps[index]?.carried !== true) return { ...step, signOff: null };
    const { countCorrections = [], doneCorrections = [], corrections, ...signed } = signOff;
    return {
      ...step,
      signOff: {
        ...signed,
        corrections: corrections.filter(({ at }) => until(at)),
        ...laterCorrections({
          countCorrections: countCorrections.filter(({ at }) => until(at)),
          doneCorrections: doneCorrections.filter(({ at }) => until(at)),
        }),
      },
    };
  });
  return {
    ...printed,
    steps,
    ended: null,
    holds: printed.holds.filter(({ placedAt }) => until(placedAt)),
  };
}

function asItStands({ lot, status, steps, ...traveler }: Traveler): PrintedTraveler {
  const { number, revision, kind: issuedAs, reworkOf, quantity, head } = traveler;
  const { changeNote, issuedBy, issuedAt, holds } = traveler;
  return {
    ...{ number, revision, kind: issuedAs, reworkOf, quantity, head, changeNote, issuedBy, issuedAt, holds },
    lotNumber: lot.number,
    ended: status === 'superseded' || status === 'cancelled' ? status : null,
    steps: steps.map(({ position, title, instructions, contents, tank, supply, ...step }) => {
      const { durationS, dripS, settings, electrical, load, record: recorded, signOff } = step;
      return {
        ...{ position, title, instructions, contents, tank, supply },
        ...{ durationS, dripS, settings, electrical, load, record: recorded, kind: step.kind },
        signOff: signOff === null ? null : asSigned(signOff),
      };
    }),
  };
}

const asSigned = ({
  person,
  doneAt,
  countIn,
  countOut,
  rejectCount,
  readings,
  corrections,
  countCorrections,
  doneCorrections,
}: NonNullable<Traveler['steps'][number]['signOff']>) => ({
  ...{ person, doneAt, countIn, countOut, rejectCount, readings, corrections },
  ...laterCorrections({ countCorrections, doneCorrections }),
});

type LaterCorrections = Pick<SignOff, 'countCorrections' | 'doneCorrections'>;

/** Left out where there are none: papers from before these could be corrected show the same. */
const laterCorrections = ({
  countCorrections,
  doneCorrections,
}: LaterCorrections): Partial<LaterCorrections> => ({
  ...(countCorrections.length === 0 ? {} : { countCorrections }),
  ...(doneCorrections.length === 0 ? {} : { doneCorrections }),
});
