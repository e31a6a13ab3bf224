import type { Caustic, DissolvedSalt, Solute } from '../bath/solutes.ts';
import type { HydrometerScale } from '../bath/titration/hydrometer.ts';
import type { SecondReading } from '../bath/titration/readings.ts';

/** Units of what is found in a bath; amounts in a litre are those at a stated temperature, `judgement` is 0 or 1. */
export type LabUnit =
  'massFraction' | 'gramsPerLitre' | 'molPerLitre' | 'pH' | 'siemensPerM' | 'ntu' | 'judgement';

/** How the flasks of a titration were filled. */
export interface FlaskFilling {
  /** Whether `amount` of a replicate is mL pipetted or g weighed. */
  basis: 'volume' | 'mass';
  temperatureC: number;
  dilution: { madeUpToMl: number; takenMl: number } | null;
  /** Taken off every burette reading that counts from zero. */
  blankMl: number;
}

interface TwoEndPointFlask {
  amount: number;
  firstEndPointMl: number;
  secondEndPointMl: number;
}

/** Burette readings, one member of `replicates` for each flask (or pair of flasks). */
export type TitrationReadings = FlaskFilling &
  (
    | {
        kind: 'caustic-two-end-points';
        solute: Caustic;
        secondReading: SecondReading;
        replicates: readonly TwoEndPointFlask[];
      }
    | {
        kind: 'caustic-barium-chloride';
        solute: Caustic;
        replicates: readonly { amount: number; totalMl: number; hydroxideMl: number }[];
      }
    | {
        kind: 'sulfuric-free-acid';
        aluminium: 'none' | 'masked' | 'counted';
        replicates: readonly { amount: number; endPointMl: number }[];
      }
    | {
        kind: 'sulfuric-aluminium';
        procedure: 'fluoride' | 'two-end-points';
        replicates: readonly { amount: number; acidMl: number; totalMl: number }[];
      }
    | {
        kind: 'phosphate' | 'phosphoric';
        secondReading: SecondReading;
        replicates: readonly TwoEndPointFlask[];
      }
  );

/** Readings of a float, each with the temperature of the liquid it stood in. */
export interface HydrometerReadings {
  kind: 'hydrometer';
  solute: Solute;
  scale: HydrometerScale;
  calibrationTemperatureC: number | null;
  /** Null when nobody knows what else is dissolved. */
  dissolved: readonly { solute: DissolvedSalt; gramsPerLitre: number }[] | null;
  replicates: readonly { reading: number; temperatureC: number }[];
}

/** What a meter showed. */
export interface MeterReadings {
  kind: 'ph' | 'conductivity' | 'turbidity';
  temperatureC: number;
  replicates: readonly { reading: number }[];
}

/** Raw readings of one sample, by the kind of method. */
export type SampleReadings =
  | TitrationReadings
  | HydrometerReadings
  | MeterReadings
  | { kind: 'appearance'; good: boolean; words: string }
  | {
      kind: 'plain';
      values: readonly {
        component: string;
        unit: LabUnit;
        referenceTemperatureC: number | null;
        value: number;
        standardUncertainty: number | null;
      }[];
    };

/** What the method and the titrant add to the readings. */
export interface SampleMethod {
  /** Strength of the titrant; null for methods without one. */
  titrant: { eqPerLitre: number; standardUncertaintyEqPerLitre: number } | null;
  uncertainty: {
    /** Of each burette reading, mL. */
    readingMl: number;
    /** Of the bath in the flask, as a share. */
    sampleRelative: number;
    /** Of a float or a meter, in the unit of its reading. */
    reading: number;
    /** Of a meter beside that, as a share of what it shows. */
    readingRelative?: number | undefined;
  };
  replicates: number;
  /** Range of the replicates over their mean that is questioned; of pH the range itself. */
  spreadLimit: number;
}
