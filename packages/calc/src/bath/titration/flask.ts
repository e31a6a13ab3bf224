import { checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { molarMass } from '../data/molar-masses.ts';
import { mixtureFlags, mixtureKgPerM3 } from '../density.ts';
import type { Part } from '../density-model.ts';
import { percent } from '../inputs.ts';
import { densityBand } from '../liquid-density.ts';
import type { DissolvedSalt, Solute } from '../solutes.ts';
import {
  bathInFlask,
  completeUncertainty,
  type FlaskShare,
  type TitrationSample,
  type TitrationUncertainty,
} from './sample.ts';

export interface Amounts {
  molPerLitre: number;
  gramsPerLitre: number;
  massFraction: number;
}

/** One thing found in the bath. Litres are those of the bath at `temperatureC` of the sample. */
export interface BathComponent extends Amounts {
  standardUncertainty: Amounts;
}

/** What every titration is given beside its own readings. */
export interface TitrationInput {
  /** Equivalents per litre, not moles: see {@link normalityFrom}. */
  titrantEqPerLitre: number;
  sample: TitrationSample;
  uncertainty?: TitrationUncertainty;
}

/** A species as the titration sees it: mmol in the flask are titrant x sum of weights x readings. */
export interface Species {
  weights: readonly number[];
  gramsPerMol: number;
  /** The dissolved salt it stands for in the density, and the moles of that salt per mole of the species. */
  densityAs?: { solute: DissolvedSalt; moles: number };
}

export interface FlaskResult<Name extends string> {
  components: Record<Name, BathComponent>;
  densityKgPerM3: number;
  flags: string[];
}

/**
 * Turns burette readings into what the bath holds. A pipetted sample gives g/L and needs the density for wt%; a
 * weighed one gives wt% and needs the density for g/L. The density is that of the whole mixture found.
 */
export function readFlask<Name extends string>({
  input,
  species,
  readingsMl,
  mainSolute,
}: {
  input: TitrationInput;
  readingsMl: readonly number[];
  species: Readonly<Record<Name, Species>>;
  mainSolute: Solute;
}): FlaskResult<Name> {
  const titrant = checkNumber('titrantEqPerLitre', input.titrantEqPerLitre, { above: 0, max: 20 });
  const flask = bathInFlask(input.sample);
  const uncertainty = completeUncertainty(input.uncertainty);
  const names = Object.keys(species) as Name[];
  const mmol = (weights: readonly number[]): number =>
    titrant * weights.reduce((sum, weight, i) => sum + weight * (readingsMl[i] ?? NaN), 0);

  const { densityKgPerM3, parts } = flaskDensity({
    flask,
    salts: names.flatMap((name) => {
      const { densityAs, weights } = species[name];
      return densityAs ? [{ solute: densityAs.solute, mmol: mmol(weights) * densityAs.moles }] : [];
    }),
  });
  const main = parts.find((part) => part.solute === mainSolute)?.massFraction ?? 0;
  const densityRelative =
    densityBand({ solute: mainSolute, massFraction: main, temperatureC: flask.temperatureC }) /
    densityKgPerM3 /
    Math.sqrt(3);

  const component = ({ weights, gramsPerMol }: Species): BathComponent => {
    const n = mmol(weights);
    const squares = weights.reduce((sum, weight) => sum + weight * weight, 0);
    const u = Math.hypot(
      n * uncertainty.titrantRelative,
      titrant * Math.sqrt(squares) * uncertainty.readingMl,
      n * uncertainty.sampleRelative,
    );
    const found = amounts({ mmol: n, gramsPerMol, flask, densityKgPerM3 });
    const own = amounts({ mmol: u, gramsPerMol, flask, densityKgPerM3 });
    const viaDensity = (value: number, ownPart: number): number =>
      Math.hypot(ownPart, value * densityRelative);
    return {
      ...found,
      standardUncertainty:
        flask.basis === 'volume'
          ? { ...own, massFraction: viaDensity(found.massFraction, own.massFraction) }
          : {
              ...own,
              molPerLitre: viaDensity(found.molPerLitre, own.molPerLitre),
              gramsPerLitre: viaDensity(found.gramsPerLitre, own.gramsPerLitre),
            },
    };
  };
  const components = Object.fromEntries(names.map((name) => [name, component(species[name])])) as Record<
    Name,
    BathComponent
  >;
  return { components, densityKgPerM3, flags: mixtureFlags(parts, flask.temperatureC) };
}

function amounts({
  mmol,
  gramsPerMol,
  flask,
  densityKgPerM3,
}: {
  mmol: number;
  gramsPerMol: number;
  flask: FlaskShare;
  densityKgPerM3: number;
}): Amounts {
  const gramsPerLitre =
    flask.basis === 'volume'
      ? (mmol * gramsPerMol) / flask.amount
      : (mmol * gramsPerMol * densityKgPerM3) / (1000 * flask.amount);
  return {
    molPerLitre: gramsPerLitre / gramsPerMol,
    gramsPerLitre,
    massFraction: gramsPerLitre / densityKgPerM3,
  };
}

/** Density of the mixture in the flask; from volumes by iteration, because the density hangs on the mass fractions. */
function flaskDensity(input: {
  flask: FlaskShare;
  salts: readonly { solute: DissolvedSalt; mmol: number }[];
}): { densityKgPerM3: number; parts: Part[] } {
  const { flask } = input;
  const partsAt = (densityKgPerM3: number): Part[] =>
    input.salts.map(({ solute, mmol }) => {
      const grams = (mmol * molarMass[solute]) / 1000;
      const gramsOfBath = flask.basis === 'mass' ? flask.amount : (flask.amount * densityKgPerM3) / 1000;
      return { solute, massFraction: grams / gramsOfBath };
    });

  let densityKgPerM3 = 1000;
  for (let round = 0; round < 200; round += 1) {
    const parts = partsAt(densityKgPerM3);
    const solids = parts.reduce((sum, part) => sum + part.massFraction, 0);
    // Far too much solute for the first guess of the density is cut to what can be, the next guess being denser.
    const scale = solids > 0.95 ? 0.95 / solids : 1;
    const scaled = parts.map((part) => ({ ...part, massFraction: part.massFraction * scale }));
    const next = mixtureKgPerM3(scaled, flask.temperatureC);
    const settled = Math.abs(next - densityKgPerM3) < 1e-9;
    densityKgPerM3 = next;
    if (settled && scale === 1) return { densityKgPerM3, parts };
    if (settled) break;
  }
  const solids = partsAt(densityKgPerM3).reduce((sum, part) => sum + part.massFraction, 0);
  throw new CalcError({
    code: 'impossible',
    argument: 'sample',
    given: `a bath with ${percent(solids)} of solutes`,
    allowed: 'burette readings, titrant and amount of sample that fit together',
  });
}
