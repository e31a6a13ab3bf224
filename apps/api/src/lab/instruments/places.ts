import { isDeepStrictEqual } from 'node:util';
import { type InstrumentRecord, reads, type setInstrumentPlaces, stepQuantities } from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { viewInstrument } from './instruments.ts';
import { clearPlaces, writePlace, readCodeOfPlace } from './place-queries.ts';
import * as queries from './queries.ts';

type Input = z.output<typeof setInstrumentPlaces.body>;
type Place = Input['places'][number];

/** Says where an instrument reads what; another that read there leaves the place. */
export function setPlaces(
  db: Db,
  { actor, id, version, input }: { actor: Actor; id: number; version: number; input: Input },
): Promise<InstrumentRecord> {
  return inTransaction(db, async (tx) => {
    await queries.lockInstrument(tx.execute, id);
    const row = orNotFound(await queries.readInstrument(tx.execute, id), `instrument ${id}`);
    assertVersion({ stored: queries.toInstrument(row), version, what: `Instrument ${row.code}` });
    const before = wordsOf(await queries.readPlaces(tx.execute, id));
    const twice = input.places.findIndex(
      (place, index) => input.places.findIndex((other) => isDeepStrictEqual(place, other)) !== index,
    );
    if (twice >= 0) throw fieldError(`places.${twice}`, 'is given twice');
    await clearPlaces(tx.execute, id);
    for (const [index, place] of input.places.entries()) {
      await check(tx, { place, path: `places.${index}`, instrument: row });
      await writePlace(tx.execute, { ...place, instrumentId: id });
    }
    await queries.touchInstrument(tx, id);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'instrument', id, number: row.code, action: 'placed' },
      changes: [{ field: 'places', old: before, new: wordsOf(await queries.readPlaces(tx.execute, id)) }],
    });
    return viewInstrument(tx, id);
  });
}

async function check(
  tx: Tx,
  { place, path, instrument }: { place: Place; path: string; instrument: queries.InstrumentRow },
): Promise<void> {
  if ((place.tankId === null) === (place.supplyId === null))
    throw fieldError(`${path}.tankId`, 'must be a tank or a power supply, and not both');
  if (instrument.archivedAt !== null) throw fieldError(path, `${instrument.code} is not in use any more`);
  if (!reads(instrument.kind, place.quantity))
    throw fieldError(
      `${path}.quantity`,
      `${instrument.code} is of a kind that reads no ${stepQuantities[place.quantity].label}`,
    );
  if ((await readCodeOfPlace(tx.execute, place)) === null)
    throw fieldError(`${path}.${place.tankId === null ? 'supplyId' : 'tankId'}`, 'is nothing in use here');
}

const wordsOf = (places: Awaited<ReturnType<typeof queries.readPlaces>>) =>
  places
    .map(({ quantity, tank, supply }) => `${stepQuantities[quantity].label} at ${(tank ?? supply)?.code}`)
    .join(', ') || null;
