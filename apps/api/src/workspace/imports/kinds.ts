import {
  BaseMetal,
  baseMetalNames,
  ChemicalHazard,
  CustomerFacts,
  importFields,
  MaterialFacts,
  NewChemical,
  PartFacts,
  type ImportKind,
  type PageKind,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { addChemical } from '../../lab/chemicals/index.ts';
import { addCustomer } from '../../catalog/customers/index.ts';
import { addMaterial } from '../../catalog/materials/index.ts';
import { standardOfSample } from '../../catalog/colour-standards/index.ts';
import { addPart } from '../../catalog/parts/index.ts';
import * as queries from './queries.ts';
import type { TableLine } from './table.ts';

/** A line as the record it becomes, or the fields that are wrong. */
export interface Entry {
  /** How people call it, and what makes it one of a kind. */
  name: string;
  one: string;
  add: (tx: Tx, actor: Actor) => Promise<unknown>;
}
export type Wrong = { field: string; message: string }[];
interface Kind {
  /** What each line becomes. */
  record: PageKind;
  known: readonly queries.KnownRecord[];
  entryOf: (line: TableLine) => Entry | Wrong;
}

/** What a rule of the record refuses, under the field of the table that the path belongs to. */
function checked<T>(
  schema: z.ZodType<T>,
  value: unknown,
  { fields, paths = {} }: { fields: readonly string[]; paths?: Record<string, string> },
): { facts: T } | Wrong {
  const { success, data, error } = schema.safeParse(value);
  if (success) return { facts: data };
  return error.issues.map(({ path, message }) => {
    const key = path.map(String).join('.');
    const field = paths[key] ?? fields.find((one) => path.includes(one)) ?? fields[0] ?? '';
    return { field, message };
  });
}
const keysOf = (kind: ImportKind) => importFields[kind].map(({ key }) => key);

async function customers({ execute }: Tx): Promise<Kind> {
  const known = await queries.readCustomers(execute);
  const currency = await queries.readCurrency(execute);
  return {
    record: 'customer',
    known,
    entryOf: ({ text }) => {
      const of = (key: string) => text[key] ?? '';
      const rate = of('taxRatePercent').replace('%', '').replace(',', '.').trim();
      const value = {
        ...{ name: of('name'), taxNumber: of('taxNumber'), terms: of('terms'), notes: of('notes') },
        currency: (of('currency') || currency).toUpperCase(),
        taxRatePercent: rate === '' ? 0 : Number(rate),
        contacts:
          of('contactName') + of('email') + of('phone') === ''
            ? []
            : [
                {
                  ...{ name: of('contactName') || of('name'), role: of('contactRole') },
                  ...{ email: of('email'), phone: of('phone') },
                },
              ],
        addresses: (['billing', 'delivery'] as const).flatMap((kind) =>
          of(`${kind}Address`) === '' ? [] : [{ kind, lines: of(`${kind}Address`) }],
        ),
      };
      const paths = {
        'contacts.0.name': 'contactName',
        'contacts.0.role': 'contactRole',
        'addresses.0.lines': 'billingAddress',
        'addresses.1.lines': 'deliveryAddress',
      };
      const read = checked(CustomerFacts, value, { fields: keysOf('customers'), paths });
      if (!('facts' in read)) return read;
      const { facts } = read;
      return {
        ...{ name: facts.name, one: facts.name.toLowerCase() },
        add: (tx, actor) => addCustomer(tx, { actor, facts }),
      };
    },
  };
}

/** A metal by its key or its name: `stainless steel`, `aluminum`. */
function metalOf(text: string): BaseMetal | null {
  const plain = text.toLowerCase().replaceAll('-', ' ').replace('aluminum', 'aluminium').trim();
  return (
    BaseMetal.options.find(
      (metal) => metal.replaceAll('-', ' ') === plain || baseMetalNames[metal].toLowerCase() === plain,
    ) ?? null
  );
}

async function materials({ execute }: Tx): Promise<Kind> {
  return {
    record: 'material',
    known: await queries.readMaterials(execute),
    entryOf: ({ text, figures }) => {
      const of = (key: string) => text[key] ?? '';
      const baseMetal = metalOf(of('baseMetal'));
      if (baseMetal === null)
        return [
          {
            field: 'baseMetal',
            message: `“${of('baseMetal')}” is none of ${BaseMetal.options.map((metal) => baseMetalNames[metal]).join(', ')}`,
          },
        ];
      const value = {
        ...{ name: of('name'), designation: of('designation'), condition: of('condition'), baseMetal },
        densityKgPerM3: figures['densityKgPerM3'],
        heatCapacityJPerKgK: figures['heatCapacityJPerKgK'],
        ...{ source: of('source'), evidence: 'shop', notes: of('notes') },
      };
      const read = checked(MaterialFacts, value, { fields: keysOf('materials') });
      if (!('facts' in read)) return read;
      const { facts } = read;
      const name = [facts.name, facts.condition].filter(Boolean).join(', ');
      return { name, one: name.toLowerCase(), add: (tx, actor) => addMaterial(tx, { actor, facts }) };
    },
  };
}

async function chemicals({ execute }: Tx): Promise<Kind> {
  return {
    record: 'chemical',
    known: await queries.readChemicals(execute),
    entryOf: ({ text, figures }) => {
      const of = (key: string) => text[key] ?? '';
      const hazards = of('hazards')
        .toLowerCase()
        .split(/[\s,;/]+/)
        .filter(Boolean);
      const unknown = hazards.find((one) => !(ChemicalHazard.options as string[]).includes(one));
      if (unknown !== undefined)
        return [
          { field: 'hazards', message: `“${unknown}” is none of ${ChemicalHazard.options.join(', ')}` },
        ];
      const price = of('pricePerKg').replace(',', '.');
      const value = {
        ...{ code: of('code'), name: of('name'), formula: of('formula'), solute: of('solute') || null },
        form: of('form').toLowerCase(),
        assayMassFraction: figures['assayMassFraction'],
        impurityMassFraction: 0,
        densityKgPerM3: figures['densityKgPerM3'] ?? null,
        hazards,
        supplier: of('supplier'),
        reorderPointKg: figures['reorderPointKg'] ?? null,
        pricePerKg: price === '' ? null : price,
        ...{ sdsFileId: null, notes: of('notes') },
      };
      const read = checked(NewChemical, value, { fields: keysOf('chemicals') });
      if (!('facts' in read)) return read;
      const input = read.facts;
      return {
        ...{ name: `${input.code} ${input.name}`, one: input.code.toLowerCase() },
        add: (tx, actor) => addChemical(tx, { actor, input }),
      };
    },
  };
}

async function parts({ execute }: Tx): Promise<Kind> {
  const [buyers, alloys, known] = await Promise.all([
    queries.readCustomers(execute),
    queries.readMaterials(execute),
    queries.readParts(execute),
  ]);
  return {
    record: 'part',
    known,
    entryOf: ({ text, figures }) => {
      const of = (key: string) => text[key] ?? '';
      const asked = { customer: of('customer').toLowerCase(), material: of('material').toLowerCase() };
      const buyer = buyers.filter(
        ({ number, one, open }) =>
          open && (one === asked.customer || number.toLowerCase() === asked.customer),
      );
      const whole = alloys.filter(({ one, open }) => open && one === asked.material);
      const alloy =
        whole.length > 0
          ? whole
          : alloys.filter(
              ({ plain, designation, open }) => open && [plain, designation].includes(asked.material),
            );
      const wrong: Wrong = [];
      const [customer] = buyer;
      const [material] = alloy;
      if (customer === undefined)
        wrong.push({
          field: 'customer',
          message: `there is no customer “${of('customer')}”: import customers first`,
        });
      else if (buyer.length > 1)
        wrong.push({
          field: 'customer',
          message: `${buyer.length} customers are called that: give the number, ${buyer.map(({ number }) => number).join(' or ')}`,
        });
      if (material === undefined)
        wrong.push({ field: 'material', message: `there is no material “${of('material')}” in use` });
      else if (alloy.length > 1)
        wrong.push({
          field: 'material',
          message: `say which condition: ${alloy.map(({ name }) => name).join(' or ')}`,
        });
      const sample = of('colourSample');
      if (sample.length > 300)
        wrong.push({ field: 'colourSample', message: 'must have at most 300 characters' });
      if (wrong.length > 0 || customer === undefined || material === undefined) return wrong;
      const value = {
        ...{ number: of('number'), revision: of('revision'), description: of('description') },
        ...{ materialId: material.id, conditionReceived: of('conditionReceived') },
        ...{ widthMm: figures['widthMm'] ?? null, heightMm: figures['heightMm'] ?? null },
        ...{ depthMm: figures['depthMm'] ?? null, massKg: figures['massKg'] ?? null, massMethod: 'typed' },
        geometry: {
          ...{ kind: 'typed', areaMm2: figures['areaMm2'], electricalAreaMm2: null, volumeMm3: null },
          ...{ origin: 'a table that was imported', maskedMm2: 0, contactMm2: 0, roughnessFactor: 1 },
        },
        colourStandardId: null,
        ...{ specification: of('specification'), specificationRevision: of('specificationRevision') },
        ...{ significantSurfaces: '', contactMarks: '', maskingNotes: '', maskingFeatures: 0 },
        ...{ dimensionAllowance: '', handling: '', notes: of('notes'), files: [] },
      };
      const read = checked(PartFacts, value, {
        fields: keysOf('parts'),
      });
      if (!('facts' in read)) return read;
      const { facts } = read;
      return {
        name: `${facts.number} rev ${facts.revision}`,
        one: `${customer.id} ${facts.number.toLowerCase()} ${facts.revision.toLowerCase()}`,
        add: async (tx, actor) => {
          const colourStandardId =
            sample === '' ? null : await standardOfSample(tx, { actor, customerId: customer.id, sample });
          return addPart(tx, { actor, customerId: customer.id, facts: { ...facts, colourStandardId } });
        },
      };
    },
  };
}

export const kinds: Record<ImportKind, (tx: Tx) => Promise<Kind>> = {
  customers,
  materials,
  chemicals,
  parts,
};
