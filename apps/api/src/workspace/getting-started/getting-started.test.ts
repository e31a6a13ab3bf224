import type { adoptStarterSet } from '@huelot/contracts';
import {
  createRecipe,
  NewChemical,
  NewPowerSupply,
  NewRack,
  NewTank,
  Rates,
  StarterSetKey,
  type GettingStarted,
  type Recipe,
  type StarterSet,
} from '@huelot/contracts';
import type { z } from 'zod';
import { describe, expect, it } from 'vitest';
import { testApp, type Ask } from '../../../../../tests/support/app.ts';
import { starterChemicals } from './starter/chemicals.ts';
import { starterRacks, starterSupplies } from './starter/equipment.ts';
import { exampleRates } from './starter/rates.ts';
import { starterRecipes } from './starter/recipes.ts';
import { starterTanks } from './starter/tanks.ts';

const { as, db } = await testApp();
const owner = await as('owner');

const stateOf = async () => (await owner({ url: '/api/getting-started' })).json<GettingStarted>();
const isDone = async (key: string) => (await stateOf()).items.find((item) => item.key === key)?.done;
const setOf = async (set: string) => (await owner({ url: `/api/starter-sets/${set}` })).json<StarterSet>();
const adopt = (set: string, keys: string[], ask: Ask = owner) =>
  ask({ method: 'POST', url: `/api/starter-sets/${set}/adopt`, payload: { keys } });
const adoptAll = async (set: string, filter: Pick<Parameters<Ask>[0], 'changesNothing'> = {}) => {
  const keys = (await setOf(set)).rows.map(({ key }) => key);
  const reply = await adopt(set, keys, (request) => owner({ ...request, ...filter }));
  expect(reply.statusCode, reply.body).toBe(200);
  return reply.json<z.output<typeof adoptStarterSet.reply>>();
};

describe('what the starter sets hold', () => {
  it('passes the rules that typed records pass', () => {
    for (const { facts } of starterTanks) NewTank.parse(facts);
    for (const { facts } of starterRacks) NewRack.parse(facts);
    for (const { facts } of starterChemicals) NewChemical.parse(facts);
    for (const { facts } of starterRecipes) createRecipe.body.parse(facts);
    for (const { facts } of starterSupplies) {
      const { contents, ...rest } = facts;
      expect(contents.length, facts.code).toBeGreaterThan(0);
      NewPowerSupply.parse({ ...rest, tankIds: [] });
    }
    Rates.parse(exampleRates);
  });

  it('says where every row is from, and that no recipe is proved', async () => {
    for (const set of StarterSetKey.options)
      for (const row of (await setOf(set)).rows) expect(row.source.length, row.name).toBeGreaterThan(10);
    for (const { facts } of starterRecipes) {
      expect(facts.notes).toMatch(/^From the literature, not proved here/);
      expect(facts.steps.flatMap(({ cautions }) => cautions).length).toBeGreaterThan(0);
    }
  });

  it('has a tank for every step of its recipes, and a supply for every step with current', () => {
    const held = new Set(starterTanks.map(({ facts }) => facts.contents));
    const powered = new Set(starterSupplies.map(({ facts }) => facts.contents));
    for (const { facts } of starterRecipes)
      for (const { contents, electrical, title } of facts.steps) {
        if (contents !== null && contents !== 'air') expect(held, title).toContain(contents);
        if (electrical !== null) expect(powered, title).toContain(contents);
      }
  });
});

describe('a new shop', () => {
  it('was shown eleven ticks and no way on', async () => {
    const { items, missing, needed } = await stateOf();
    expect(missing).toBe(needed - items.filter((item) => item.needed && item.done).length);
    expect(missing).toBeGreaterThan(7);
    for (const { page, verb } of items) expect([page, verb].every((text) => text.length > 1)).toBe(true);
    expect(await isDone('tanks')).toBe(false);
  });

  it('takes over what it chooses, once, by the usual commands', async () => {
    const chosen = (await setOf('tanks')).rows.slice(0, 4).map(({ key }) => key);
    expect((await adopt('tanks', chosen)).json<{ added: unknown[] }>().added).toHaveLength(4);
    expect(await isDone('tanks')).toBe(true);
    expect(await db.prisma.tank.count()).toBe(4);
    const again = await adoptAll('tanks');
    expect(again.kept).toHaveLength(4);
    expect(await db.prisma.tank.count()).toBe(starterTanks.length);
    expect((await adoptAll('tanks', { changesNothing: true })).added).toEqual([]);
    expect(await db.prisma.auditEntry.count({ where: { recordKind: 'tank' } })).toBe(starterTanks.length);
  });

  it('connects a supply to the tanks that hold what it is for', async () => {
    await adoptAll('supplies');
    const supplies = await db.prisma.powerSupply.findMany({
      include: { tanks: { include: { tank: true } } },
    });
    expect(supplies.map(({ tanks }) => tanks.map(({ tank }) => tank.contents))).toEqual([
      ['mild-salt'],
      ['hot-caustic'],
      ['sulfuric-anodize'],
    ]);
    expect(await isDone('supplies')).toBe(true);
  });

  it('gets recipes as drafts that nobody approved', async () => {
    const { added } = await adoptAll('recipes');
    expect(added).toHaveLength(starterRecipes.length);
    for (const { page } of added) {
      const recipe = (await owner({ url: `/api/recipes/${page.id}` })).json<Recipe>();
      expect(recipe.revisions).toMatchObject([{ status: 'draft', approvedBy: null }]);
      expect(recipe.notes).toContain('not proved here');
    }
    expect(await isDone('recipes')).toBe(false);
  });

  it('does not count example rates as its own, and never replaces a card by them', async () => {
    expect((await adoptAll('rates')).added).toHaveLength(1);
    const state = await stateOf();
    expect(state.items.find(({ key }) => key === 'rates')).toMatchObject({
      done: false,
      detail: expect.stringContaining('put your own in') as string,
    });
    expect((await adoptAll('rates', { changesNothing: true })).added).toEqual([]);
    expect(await db.prisma.rateCard.count()).toBe(1);
  });

  it('names what is not in a set, and creates nothing then', async () => {
    const reply = await adopt('racks', ['RK-1', 'RK-99']);
    expect(reply.statusCode).toBe(422);
    expect(reply.json()).toMatchObject({ issues: [{ path: 'keys.1' }] });
    expect(await db.prisma.rack.count()).toBe(0);
    expect((await adopt('racks', ['RK-1', 'RK-1'])).json<{ added: unknown[] }>().added).toHaveLength(1);
    expect((await adopt('racks', ['RK-2'], await as('planner'))).statusCode).toBe(403);
  });

  it('has one copy of each, however often two ask at the same moment', async () => {
    const chemicals = (await setOf('chemicals')).rows.map(({ key }) => key);
    // Whoever comes late may find all there and leave no entry: with keys of their own, entries are counted below.
    const keyed = (n: number) => (request: Parameters<Ask>[0]) =>
      owner({ ...request, headers: { 'idempotency-key': `adopt-at-once-${n}` } });
    const replies = await Promise.all([1, 2, 3, 4].map((n) => adopt('chemicals', chemicals, keyed(n))));
    expect(replies.every(({ statusCode }) => statusCode === 200 || statusCode === 409)).toBe(true);
    expect(await db.prisma.chemical.count()).toBe(starterChemicals.length);
    const entries = await db.prisma.auditEntry.count({ where: { recordKind: 'chemical' } });
    expect(entries).toBe(starterChemicals.length);
    await adoptAll('materials');
    expect((await adoptAll('materials', { changesNothing: true })).added).toEqual([]);
  });
});
