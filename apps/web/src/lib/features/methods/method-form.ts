import type { AnalysisMethod, MethodKind, MethodSettings, NewMethod } from '@huelot/contracts';
import { needsOf } from './method-labels.ts';

/** A method as it is typed: every setting has its place, and the kind decides which are sent. */
export interface MethodValues {
  code: string;
  name: string;
  kind: MethodKind;
  procedure: string;
  formula: string;
  source: string;
  settings: {
    titrant: { reagent: 'HCl' | 'HNO3' | 'H2SO4' | 'NaOH' | 'KOH'; nominalEqPerLitre: number | null };
    sample: {
      basis: 'volume' | 'mass';
      amount: number | null;
      diluted: boolean;
      dilution: { madeUpToMl: number | null; takenMl: number | null };
    };
    solute: MethodSettings['solute'];
    secondReading: 'from-zero' | 'from-first';
    aluminium: 'none' | 'masked' | 'counted';
    procedure: 'fluoride' | 'two-end-points';
    scale: 'g/mL' | 'SG60F' | 'Baume' | 'Twaddell';
    indicators: [string, string];
    uncertainty: {
      readingMl: number | null;
      sampleRelative: number | null;
      reading: number | null;
      readingRelative?: number | null | undefined;
    };
    replicates: number | null;
    spreadLimit: number | null;
  };
}

export const emptyMethod: MethodValues = {
  code: '',
  name: '',
  kind: 'caustic-two-end-points',
  procedure: '',
  formula: '',
  source: '',
  settings: {
    titrant: { reagent: 'HCl', nominalEqPerLitre: null },
    sample: {
      basis: 'volume',
      amount: null,
      diluted: false,
      dilution: { madeUpToMl: null, takenMl: null },
    },
    solute: null,
    secondReading: 'from-zero',
    aluminium: 'none',
    procedure: 'fluoride',
    scale: 'g/mL',
    indicators: ['', ''],
    uncertainty: { readingMl: 0.05, sampleRelative: 0.002, reading: 0 },
    replicates: 2,
    spreadLimit: 0.01,
  },
};

export function valuesOf(method: AnalysisMethod): MethodValues {
  const { code, name, kind, procedure, formula, source, settings } = method;
  const empty = emptyMethod.settings;
  const [first = '', second = ''] = settings.indicators;
  return {
    code,
    name,
    kind,
    procedure,
    formula,
    source,
    settings: {
      titrant: settings.titrant ?? empty.titrant,
      sample: {
        basis: settings.sample?.basis ?? 'volume',
        amount: settings.sample?.amount ?? null,
        diluted: Boolean(settings.sample?.dilution),
        dilution: settings.sample?.dilution ?? empty.sample.dilution,
      },
      solute: settings.solute,
      secondReading: settings.secondReading ?? empty.secondReading,
      aluminium: settings.aluminium ?? empty.aluminium,
      procedure: settings.procedure ?? empty.procedure,
      scale: settings.scale ?? empty.scale,
      indicators: [first, second],
      uncertainty: settings.uncertainty,
      replicates: settings.replicates,
      spreadLimit: settings.spreadLimit,
    },
  };
}

/**
 * What is sent: what the kind does not use goes as null, and a figure that is missing does so too, which the server
 * refuses by its name.
 *
 * @example
 * bodyOf({ ...emptyMethod, kind: 'ph' }).settings.titrant // null
 */
export function bodyOf({ settings, ...head }: MethodValues): NewMethod {
  const needs = needsOf(head.kind);
  const { titrant, sample, uncertainty } = settings;
  return {
    ...head,
    settings: {
      titrant: needs.titration ? titrant : null,
      sample: needs.titration
        ? {
            basis: sample.basis,
            amount: sample.amount,
            dilution: sample.diluted ? sample.dilution : null,
          }
        : null,
      solute: settings.solute,
      secondReading: needs.secondReading ? settings.secondReading : null,
      aluminium: needs.aluminium ? settings.aluminium : null,
      procedure: needs.procedure ? settings.procedure : null,
      scale: needs.scale ? settings.scale : null,
      indicators: needs.titration ? settings.indicators.filter((one) => one.trim() !== '') : [],
      uncertainty: {
        readingMl: needs.titration ? uncertainty.readingMl : 0,
        sampleRelative: needs.titration ? uncertainty.sampleRelative : 0,
        reading: needs.reading ? uncertainty.reading : 0,
        ...(needs.meter && typeof uncertainty.readingRelative === 'number'
          ? { readingRelative: uncertainty.readingRelative }
          : {}),
      },
      replicates: settings.replicates,
      spreadLimit: settings.spreadLimit,
    },
  } as NewMethod;
}
