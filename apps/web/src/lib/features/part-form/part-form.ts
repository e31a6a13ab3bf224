import type { Geometry, LengthUnit, Part, PartFacts, StoredFile } from '@huelot/contracts';
import type { TypedShape } from '$lib/features/geometry/shape-form.ts';

/** Numbers may be missing while a form is typed. */
type Figure = number | null;
interface Coverage {
  maskedMm2: Figure;
  contactMm2: Figure;
  roughnessFactor: Figure;
}
export interface TypedFeature {
  label: string;
  shape: TypedShape;
  count: Figure;
  subtract: boolean;
  openings: Figure;
}
export interface TypedJoint {
  label: string;
  patch: 'disc' | 'rectangle' | 'area';
  count: Figure;
  diameterMm?: Figure;
  lengthMm?: Figure;
  widthMm?: Figure;
  areaMm2?: Figure;
}
export type TypedValues = Coverage & {
  kind: 'typed';
  areaMm2: Figure;
  electricalAreaMm2: Figure;
  volumeMm3: Figure;
  origin: string;
};
export type ShapesValues = Coverage & { kind: 'shapes'; features: TypedFeature[]; joints: TypedJoint[] };
export type MeshValues = Coverage & {
  kind: 'mesh';
  measurementId: Figure;
  unit: LengthUnit | '';
  shadowedMm2: Figure;
};
export type GeometryValues = TypedValues | ShapesValues | MeshValues;

export type PartValues = Omit<PartFacts, 'materialId' | 'maskingFeatures' | 'geometry'> & {
  customerId: Figure;
  materialId: Figure;
  maskingFeatures: Figure;
  geometry: GeometryValues;
};

const uncovered: Coverage = { maskedMm2: 0, contactMm2: 0, roughnessFactor: 1 };

export const emptyFeature = (): TypedFeature => ({
  label: '',
  shape: { kind: 'plate', lengthMm: null, widthMm: null, thicknessMm: null },
  count: 1,
  subtract: false,
  openings: null,
});

/** A geometry of a kind with nothing typed yet; what covers the surface stays. */
export function emptyGeometry(kind: Geometry['kind'], coverage: Coverage = uncovered): GeometryValues {
  const { maskedMm2, contactMm2, roughnessFactor } = coverage;
  const kept = { maskedMm2, contactMm2, roughnessFactor };
  switch (kind) {
    case 'typed':
      return { kind, areaMm2: null, electricalAreaMm2: null, volumeMm3: null, origin: '', ...kept };
    case 'shapes':
      return { kind, features: [emptyFeature()], joints: [], ...kept };
    case 'mesh':
      return { kind, measurementId: null, unit: '', shadowedMm2: 0, ...kept };
  }
}

export const emptyPart = (customerId: number | null): PartValues => ({
  customerId,
  number: '',
  revision: 'A',
  description: '',
  materialId: null,
  conditionReceived: '',
  widthMm: null,
  heightMm: null,
  depthMm: null,
  massKg: null,
  massMethod: 'volume',
  geometry: emptyGeometry('shapes'),
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
});

export const valuesOf = (part: Part): PartValues => ({
  customerId: part.customer.id,
  number: part.number,
  revision: part.revision,
  description: part.description,
  materialId: part.material.id,
  conditionReceived: part.conditionReceived,
  widthMm: part.widthMm,
  heightMm: part.heightMm,
  depthMm: part.depthMm,
  massKg: part.massKg,
  massMethod: part.massMethod,
  geometry: part.geometry,
  colourStandardId: part.agreedColour?.standardId ?? null,
  zones: part.zones.map(({ name, material, agreedColour }) => ({
    name,
    materialId: material?.id ?? null,
    colourStandardId: agreedColour?.standardId ?? null,
  })),
  colourReadAt: part.colourReadAt,
  specification: part.specification,
  specificationRevision: part.specificationRevision,
  significantSurfaces: part.significantSurfaces,
  contactMarks: part.contactMarks,
  maskingNotes: part.maskingNotes,
  maskingFeatures: part.maskingFeatures,
  dimensionAllowance: part.dimensionAllowance,
  handling: part.handling,
  notes: part.notes,
  files: part.files.map(({ file, kind, caption }) => ({ fileId: file.id, kind, caption })),
});

/** What is sent: what is still missing goes as it is, and the server refuses it by the name of its field. */
export function factsOf({ customerId: _, ...values }: PartValues): PartFacts {
  const massKg = values.massMethod === 'volume' ? null : values.massKg;
  return { ...values, massKg } as PartFacts;
}

/** The files a form starts from, to show their names. */
export const filesOf = (part: Part | null): StoredFile[] => part?.files.map(({ file }) => file) ?? [];
