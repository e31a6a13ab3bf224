import type { BaseMetal, Enquiry, NewEnquiry } from '@huelot/contracts';
import type { TypedLab } from '$lib/format/colour-faults.ts';

/** An enquiry as it is typed. */
export interface EnquiryValues {
  customerId: number | null;
  customerName: string;
  contact: string;
  words: string;
  colourName: string;
  colour: TypedLab;
  colourStandardId: number | null;
  baseMetal: BaseMetal | null;
  materialId: number | null;
  quantity: number | null;
  dueOn: string;
  hasSample: boolean;
  sample: { name: string; keptAt: string; dueBackOn: string; returnedOn: string };
  pictureIds: number[];
  ownerId: number;
}

const nothing = (): TypedLab => ({ L: null, a: null, b: null });

export const emptyEnquiry = ({
  ownerId,
  customerId,
}: {
  ownerId: number;
  customerId: number | null;
}): EnquiryValues => ({
  ...{ customerId, customerName: '', contact: '', words: '', colourName: '', colour: nothing() },
  ...{ colourStandardId: null, baseMetal: null, materialId: null, quantity: null, dueOn: '' },
  ...{ hasSample: false, sample: { name: '', keptAt: '', dueBackOn: '', returnedOn: '' } },
  ...{ pictureIds: [], ownerId },
});

export function valuesOf(enquiry: Enquiry): EnquiryValues {
  const { customerName, contact, words, colourName, quantity, sample } = enquiry;
  return {
    ...{ customerName, contact, words, colourName, quantity },
    customerId: enquiry.customer?.id ?? null,
    colour: { ...(enquiry.colour ?? nothing()) },
    colourStandardId: enquiry.standard?.standardId ?? null,
    baseMetal: enquiry.material === null ? enquiry.baseMetal : null,
    materialId: enquiry.material?.id ?? null,
    dueOn: enquiry.dueOn ?? '',
    hasSample: sample !== null,
    sample: {
      ...{ name: sample?.name ?? '', keptAt: sample?.keptAt ?? '' },
      ...{ dueBackOn: sample?.dueBackOn ?? '', returnedOn: sample?.returnedOn ?? '' },
    },
    pictureIds: enquiry.pictures.map(({ id }) => id),
    ownerId: enquiry.owner.id,
  };
}

/** As it is sent: a colour of which nothing is typed is none. What is missing the server names. */
export function bodyOf({ hasSample, sample, colour, ...values }: EnquiryValues): NewEnquiry {
  const untyped = Object.values(colour).every((value) => value === null);
  return {
    ...values,
    customerName: values.customerId === null ? values.customerName : '',
    colour: untyped ? null : colour,
    dueOn: values.dueOn || null,
    sample: hasSample
      ? { ...sample, dueBackOn: sample.dueBackOn || null, returnedOn: sample.returnedOn || null }
      : null,
  } as NewEnquiry;
}
