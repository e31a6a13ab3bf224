import {
  permissions,
  type AssessmentOffer,
  type AssessmentSheet,
  type getAssessmentSheet,
  type ImpactAssessment,
  type LookBackTie,
  type openAssessment,
} from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Queryable, type SqlExecutor, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { look, lookAtAll } from '../look-back/index.ts';
import { causeOf, lockCause, readOffer } from './offers.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';
import { addAssessment, addLots } from './write-queries.ts';

/** More lots than anybody judges one by one: the days are too wide. */
const MOST_LOTS = 500;
/** So many are shown before it is opened. */
const SHOWN_LOTS = 20;
const nothing = { lots: 0, customers: 0, shippedPieces: 0, certificates: 0 };

interface Asked {
  about: string | null;
  from: string | null;
  to: string | null;
}
const days = ({ from, to }: Asked) => ({ from: from ?? undefined, to: to ?? undefined });

/** What an assessment would begin with, before anybody types. */
export async function readSheet(
  db: Db,
  { about, from, to, cause }: SheetQuery,
): Promise<z.input<typeof AssessmentSheet>> {
  const offer = cause === undefined ? null : await readOffer(db.execute, cause);
  const asked = offer ?? { about: about ?? null, from: from ?? null, to: to ?? null };
  const found =
    asked.about === null ? null : await look(db, { about: asked.about, ...days(asked), limit: SHOWN_LOTS });
  return {
    ...{ about: asked.about, from: asked.from, to: asked.to, offer },
    aboutName: found?.subject ?? '',
    totals: found?.totals ?? nothing,
    lots: found?.items ?? [],
    owners: await readOwners(db.execute),
    open: asked.about === null ? [] : await queries.readOpenAbout(db.execute, asked.about),
  };
}
type SheetQuery = z.output<typeof getAssessmentSheet.query>;

export const readOwners = (execute: SqlExecutor) =>
  queries.readOwners(execute, permissions['inspection.write']);

/** Refuses an owner who may not judge, and a day that is over. */
export async function checkAssignment(
  execute: SqlExecutor,
  { ownerId, dueOn }: { ownerId: number; dueOn: string },
): Promise<void> {
  if (!(await readOwners(execute)).some(({ id }) => id === ownerId))
    throw fieldError('ownerId', 'must be somebody in quality or an owner who works here now');
  if (dueOn < (await queries.readDay(execute))) throw fieldError('dueOn', 'must not be over already');
}

/**
 * Opens an impact assessment and freezes with it what was asked and every lot that was found, with what binds it, what was shipped and
 * what was certified at that moment.
 */
export function open(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof openAssessment.body> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { cause } = input;
    if (cause !== null) await lockCause(tx, cause);
    const offer = cause === null ? null : await readOffer(tx.execute, cause);
    if (offer !== null && input.about !== null)
      throw fieldError('about', 'must be null: what is offered says what is asked');
    await checkAssignment(tx.execute, input);
    const asked: Asked = offer ?? input;
    if (asked.about === null && (asked.from !== null || asked.to !== null))
      throw fieldError('from', 'must be null where nothing is looked back from');
    const found = await findLots(tx, { asked, offer });
    const number = await nextNumber(tx.execute, 'impact-assessment');
    const answered = cause === null ? null : causeOf(cause);
    const { id } = await addAssessment(tx, {
      ...{ number, about: asked.about, aboutName: found.subject, reason: input.reason },
      ...{ fromDay: asDate(asked.from), toDay: asDate(asked.to), dueOn: new Date(input.dueOn) },
      ...{ causeKind: answered?.kind ?? null, causeId: answered?.key ?? null },
      ...{ ownerId: input.ownerId, openedById: actor.personId },
    });
    await bringLots(tx, { actor, assessmentId: id, ties: found.ties, why: '' });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, reason: input.reason },
      action: `opened for ${found.ties.size} ${found.ties.size === 1 ? 'lot' : 'lots'}${found.subject === '' ? '' : ` touched by ${found.subject}`}`,
    });
    return view(tx, id);
  });
}

const asDate = (day: string | null) => (day === null ? null : new Date(day));

async function findLots(
  tx: Tx,
  { asked, offer }: { asked: Asked; offer: AssessmentOffer | null },
): Promise<{ subject: string; ties: Map<number, LookBackTie[]> }> {
  if (asked.about === null) return { subject: '', ties: new Map(offer?.lotId ? [[offer.lotId, []]] : []) };
  const { subject, lots } = await lookAtAll(tx, { about: asked.about, ...days(asked), most: MOST_LOTS });
  if (lots.length > MOST_LOTS)
    throw fieldError('from', `more than ${MOST_LOTS} lots were touched: narrow the days`);
  return { subject, ties: new Map(lots.map(({ id, ties }) => [id, ties])) };
}

/** Freezes what lots are now with an assessment. */
export async function bringLots(
  tx: Queryable,
  {
    actor,
    assessmentId,
    ties,
    why,
  }: { actor: Actor; assessmentId: number; ties: ReadonlyMap<number, LookBackTie[]>; why: string },
): Promise<void> {
  const rows = await queries.readLotFacts(tx.execute, { ids: [...ties.keys()] });
  await addLots(
    tx,
    rows.map(({ id, ...facts }) => ({
      ...{ assessmentId, lotId: id, facts, ties: ties.get(id) ?? [], why, addedById: actor.personId },
    })),
  );
}

/** An assessment that is still open, locked: nobody writes beside it or closes it at once. */
export async function lockOpen(tx: Tx, id: number): Promise<queries.AssessmentRow> {
  await queries.lockAssessment(tx.execute, id);
  const row = orNotFound(await queries.readAssessment(tx.execute, id), `impact assessment ${id}`);
  if (row.state === 'closed')
    throw new DomainError('conflict', `${row.number} is closed and stands: open another one.`);
  return row;
}
