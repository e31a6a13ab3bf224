import {
  type Correctable,
  correctableNames,
  Fault,
  may,
  type NewEntry,
  type Nonconformance,
} from '@huelot/contracts';
import { z } from 'zod';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { lockLot } from '../../production/lots/index.ts';
import { addPhotos } from './open.ts';
import * as queries from './queries.ts';
import { missingOf, view } from './view.ts';

interface About {
  actor: Actor;
  id: number;
}

/** The nonconformance with its lot locked: nobody writes beside it, ships or decides at once. */
async function lock(tx: Tx, id: number): Promise<queries.NonconformanceRow> {
  const lotId = orNotFound(await queries.readLotOf(tx.execute, id), `nonconformance ${id}`);
  await lockLot(tx.execute, lotId);
  return orNotFound(await queries.readNonconformance(tx.execute, id), `nonconformance ${id}`);
}

/** Writes something beside an open nonconformance; costs come in after it was closed, too. */
export function addEntry(db: Db, { actor, id, input }: About & { input: NewEntry }): Promise<Nonconformance> {
  return inTransaction(db, async (tx) => {
    const row = await lock(tx, id);
    if (row.state === 'closed' && input.kind !== 'cost')
      throw new DomainError('conflict', `${row.number} is closed: open it again first, with the reason.`);
    if (input.kind === 'photo') {
      await addPhotos(tx, { actor, id, fileIds: [input.fileId], text: input.text || 'photo' });
    } else {
      await check(tx, { actor, row, input });
      const { kind, ...rest } = input;
      await queries.addEntry(tx, {
        ...{ ...rest, kind, nonconformanceId: id, byId: actor.personId },
        ...('dueOn' in rest ? { dueOn: new Date(rest.dueOn) } : {}),
      } as queries.NewEntryRow);
    }
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'nonconformance', id, number: row.number, action: `wrote down ${words[input.kind]}` },
      reason: input.text || null,
    });
    return view(tx, { actor, id });
  });
}

const words: Record<NewEntry['kind'], string> = {
  containment: 'containment',
  photo: 'a photo',
  cause: 'the cause',
  action: 'an action',
  'action-done': 'the end of an action',
  effect: 'whether an action worked',
  cost: 'a cost',
  correction: 'a correction',
};

async function check(
  tx: Tx,
  { actor, row, input }: { actor: Actor; row: queries.NonconformanceRow; input: NewEntry },
): Promise<void> {
  const entries = await queries.readEntries(tx.execute, row.id);
  const actionOf = (actionId: number) => {
    const action = entries.find((one) => one.kind === 'action' && one.id === actionId);
    if (action === undefined) throw fieldError('actionId', `is no action of ${row.number}`);
    return action;
  };
  const judges = may(actor.roles, 'inspection.write');
  switch (input.kind) {
    case 'containment':
      return;
    case 'action-done': {
      const action = actionOf(input.actionId);
      if (!judges && action.owner?.id !== actor.personId)
        throw new DomainError('not-allowed', `The action is of ${action.owner?.name ?? 'somebody else'}.`);
      if (entries.some((one) => one.kind === 'action-done' && one.actionId === action.id))
        throw new DomainError('conflict', 'The action is done already.');
      return;
    }
    default:
  }
  if (!judges) throw new DomainError('not-allowed', `Quality writes down ${words[input.kind]}.`);
  if (input.kind === 'effect') {
    const action = actionOf(input.actionId);
    if (!entries.some((one) => one.kind === 'action-done' && one.actionId === action.id))
      throw new DomainError('conflict', 'The action is not done yet: nothing shows whether it works.');
    if (action.owner?.id === actor.personId)
      throw new DomainError(
        'not-allowed',
        'Whether an action worked is judged by somebody else than its owner.',
      );
  }
  if (
    input.kind === 'action' &&
    !(await queries.readOwners(tx.execute)).some(({ id }) => id === input.ownerId)
  )
    throw fieldError('ownerId', 'is nobody who works here now');
  if (input.kind === 'correction') checkCorrection(row, input);
}

const piecesText = z.string().regex(/^[1-9]\d{0,6}$/, 'must be a whole number of pieces');
const newValues: Record<Correctable, z.ZodType> = {
  piecesAffected: piecesText,
  piecesInspected: piecesText,
  fault: Fault,
  place: z.string().max(200),
  description: z.string().max(4000),
  requirement: z.string().max(1000),
  measuredValue: z.string().regex(/^-?\d{1,9}(\.\d{1,9})?$/, 'must be a number like 4.2'),
  foundOn: z.iso.date(),
  foundBy: z.string().max(200),
  customerReference: z.string().max(100),
};

function checkCorrection(
  row: queries.NonconformanceRow,
  { field, newValue }: Extract<NewEntry, { kind: 'correction' }>,
): void {
  const parsed = newValues[field].safeParse(newValue);
  if (!parsed.success)
    throw fieldError(
      'newValue',
      `${correctableNames[field]}: ${parsed.error.issues[0]?.message ?? 'is not allowed'}`,
    );
  const decided = row.piecesAffected - row.undecided;
  if (field === 'piecesAffected' && Number(newValue) < decided)
    throw fieldError('newValue', `must be at least ${decided}, the pieces it was decided about`);
  if (field === 'piecesAffected' && Number(newValue) > row.record.lot.quantity)
    throw fieldError('newValue', `must be at most ${row.record.lot.quantity}, the pieces of the lot`);
}

/** Closes a nonconformance that nothing is missing of. */
export function close(db: Db, { actor, id, text }: About & { text: string }): Promise<Nonconformance> {
  return inTransaction(db, async (tx) => {
    const row = await lock(tx, id);
    if (row.state === 'closed') throw new DomainError('conflict', `${row.number} is closed already.`);
    const missing = missingOf(row, await queries.readEntries(tx.execute, id));
    if (missing.length > 0)
      throw new DomainError('conflict', `${row.number} cannot be closed without ${missing.join('; ')}.`);
    return settle(tx, { actor, row, kind: 'closed', text });
  });
}

/** Opens a closed nonconformance again: its pieces wait again where nobody decided about them. */
export function reopen(db: Db, { actor, id, text }: About & { text: string }): Promise<Nonconformance> {
  return inTransaction(db, async (tx) => {
    const row = await lock(tx, id);
    if (row.state === 'open') throw new DomainError('conflict', `${row.number} is open.`);
    return settle(tx, { actor, row, kind: 'reopened', text });
  });
}

async function settle(
  tx: Tx,
  {
    actor,
    row,
    kind,
    text,
  }: { actor: Actor; row: queries.NonconformanceRow; kind: 'closed' | 'reopened'; text: string },
): Promise<Nonconformance> {
  await queries.addEntry(tx, { nonconformanceId: row.id, kind, text, byId: actor.personId });
  await queries.setState(tx, row.id, kind === 'closed' ? 'closed' : 'open');
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'nonconformance', id: row.id, number: row.number, reason: text },
    action: kind === 'closed' ? 'closed' : 'opened again',
    changes: signature(actor, kind),
  });
  return view(tx, { actor, id: row.id });
}
