import { chamberLimits, chamberMethods } from '@huelot/calc';
import type {
  ExposureFigure,
  ExposureKind,
  ExposureLimits,
  ExposureTest,
  NewExposureTest,
  ScanFinish,
} from '@huelot/contracts';
import { figures } from './exposure-words.ts';

export interface SpecimenValues {
  mark: string;
  materialId: number | null;
  finish: ScanFinish;
  film: string;
  protective: string;
  recipeRevisionId: number | null;
  couponSeriesId: number | null;
  areaMm2: number | null;
  edgesMasked: boolean;
  note: string;
}
type Range = { low: number | null; high: number | null };

/** A test as it is typed. */
export interface TestValues {
  name: string;
  kind: ExposureKind;
  medium: string;
  concentrationGPerL: number | null;
  temperatureC: number | null;
  place: string;
  standard: string;
  lookEveryDays: number | null;
  plannedStart: string;
  plannedHours: number | null;
  responsibleId: number | null;
  limits: Record<ExposureFigure, Range>;
  note: string;
  specimens: SpecimenValues[];
}

const limitValues = (limits: ExposureLimits) =>
  Object.fromEntries(
    figures.map((figure) => [
      figure,
      { low: limits[figure]?.low ?? null, high: limits[figure]?.high ?? null },
    ]),
  ) as TestValues['limits'];
const noLimits: ExposureLimits = {
  ...{ temperatureC: null, pH: null, collectionMlPerHour: null, saltGPerL: null },
};

/** The ranges that a kind of test begins with: of a chamber those of its standard, from memory; otherwise none. */
export function usualLimits(kind: ExposureKind): TestValues['limits'] {
  const method = chamberMethods.find((one) => one === kind);
  return limitValues(method === undefined ? noLimits : chamberLimits({ method }));
}

export const emptySpecimen = (before?: SpecimenValues, materialId: number | null = null): SpecimenValues =>
  before === undefined
    ? {
        ...{ mark: '', materialId, finish: 'bare', film: '', protective: '' },
        ...{ recipeRevisionId: null, couponSeriesId: null, areaMm2: null, edgesMasked: false, note: '' },
      }
    : { ...before, mark: '', note: '' };

export const emptyTest = (responsibleId: number | null, materialId: number | null): TestValues => ({
  ...{ name: '', kind: 'immersion', medium: '', concentrationGPerL: null, temperatureC: null, place: '' },
  ...{ standard: '', lookEveryDays: 1, plannedStart: '', plannedHours: 240, responsibleId, note: '' },
  limits: usualLimits('immersion'),
  specimens: [emptySpecimen(undefined, materialId)],
});

export const testValues = (test: ExposureTest): TestValues => ({
  ...{ name: test.name, kind: test.kind, medium: test.medium, place: test.place, standard: test.standard },
  ...{ concentrationGPerL: test.concentrationGPerL, temperatureC: test.temperatureC, note: test.note },
  ...{ lookEveryDays: test.lookEveryDays, plannedStart: test.plannedStart ?? '' },
  ...{ plannedHours: test.plannedHours, responsibleId: test.responsible.id },
  limits: limitValues(test.limits),
  specimens: test.specimens.map((specimen) => ({
    ...{ mark: specimen.mark, materialId: specimen.material.id, finish: specimen.finish },
    ...{ film: specimen.film, protective: specimen.protective, areaMm2: specimen.areaMm2 },
    recipeRevisionId: specimen.recipe?.revisionId ?? null,
    couponSeriesId: specimen.couponSeries?.id ?? null,
    ...{ edgesMasked: specimen.edgesMasked, note: specimen.note },
  })),
});

/** As the service takes it; what is missing is left for it to name. A range with neither end asks nothing. */
export function bodyOf({ plannedStart, limits, ...values }: TestValues): NewExposureTest {
  return {
    ...values,
    plannedStart: plannedStart === '' ? null : plannedStart,
    limits: Object.fromEntries(
      figures.map((figure) => {
        const { low, high } = limits[figure];
        return [figure, low === null && high === null ? null : { low, high }];
      }),
    ),
  } as NewExposureTest;
}
