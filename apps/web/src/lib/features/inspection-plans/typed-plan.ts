import type { Characteristic, InspectionPlan, setInspectionPlan } from '@huelot/contracts';
import type { BodyOf } from '$lib/forms/typing.ts';

export type TypedCharacteristic = BodyOf<typeof setInspectionPlan>['characteristics'][number];

export const usualSampling = (): NonNullable<Characteristic['sampling']> => ({
  level: 'II',
  aql: '1.0',
  limitNumber: null,
});

export const emptyCharacteristic = (): TypedCharacteristic => ({
  ...{ name: '', kind: 'visual', method: '', instrument: '', acceptance: '' },
  sampling: null,
});

/** A plan as its form begins: what is in force, or one thing that every colour shop looks at. */
export const typedPlan = ({ characteristics }: InspectionPlan): TypedCharacteristic[] =>
  characteristics.length === 0
    ? [
        {
          ...emptyCharacteristic(),
          ...{ name: 'Look of the film', method: 'by eye at arm’s length in even light' },
          acceptance: 'even, no bare spot, no powder, no contact mark outside the allowed places',
        },
      ]
    : characteristics.map(({ name, kind, method, instrument, acceptance, sampling }) => ({
        ...{ name, kind, method, instrument, acceptance },
        sampling: sampling && { ...sampling },
      }));
