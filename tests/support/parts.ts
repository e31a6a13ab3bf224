import type { Part, PartFacts, StoredFile } from '@huelot/contracts';
import { expect } from 'vitest';
import type { Db } from '../../apps/api/src/db/client.ts';
import type { Ask } from './app.ts';
import { multipart } from './multipart.ts';

/** A customer and a titanium to make parts of. */
export async function partBasis(db: Db): Promise<{ customerId: number; materialId: number }> {
  const customer = await db.prisma.customer.create({
    data: { number: 'C-00900', name: 'Kestrel Instruments', currency: 'EUR' },
  });
  const material = await db.prisma.material.create({
    data: {
      name: 'Titanium grade 2',
      condition: 'annealed',
      baseMetal: 'titanium',
      densityKgPerM3: 4510,
      heatCapacityJPerKgK: 524,
      source: 'test',
      evidence: 'P',
    },
  });
  return { customerId: customer.id, materialId: material.id };
}

/** The facts of a part with a typed area, to be changed where a test needs it. */
export const partFacts = (materialId: number, extra: Partial<PartFacts> = {}): PartFacts => ({
  number: 'K-100',
  revision: 'A',
  description: 'Bracket',
  materialId,
  conditionReceived: 'machined',
  widthMm: 40,
  heightMm: 60,
  depthMm: 10,
  massKg: 0.05,
  massMethod: 'typed',
  geometry: {
    kind: 'typed',
    areaMm2: 5000,
    electricalAreaMm2: null,
    volumeMm3: null,
    origin: 'drawing',
    maskedMm2: 0,
    contactMm2: 0,
    roughnessFactor: 1,
  },
  colourStandardId: null,
  zones: [],
  colourReadAt: 'check',
  specification: '',
  specificationRevision: '',
  significantSurfaces: '',
  contactMarks: '',
  maskingNotes: '',
  maskingFeatures: 0,
  dimensionAllowance: '',
  handling: '',
  notes: '',
  files: [],
  ...extra,
});

export async function addPart(ask: Ask, options: { customerId: number } & PartFacts): Promise<Part> {
  const answer = await ask({ method: 'POST', url: '/api/parts', payload: options });
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json();
}

export async function sendFile(ask: Ask, name: string, content: Buffer | string): Promise<StoredFile> {
  const answer = await ask({ method: 'POST', url: '/api/files', ...multipart({ name, content }) });
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json();
}
