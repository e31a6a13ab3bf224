import { carbonateOf } from '../bath/solutes.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from '../bath/titration/caustic.ts';
import type { BathComponent } from '../bath/titration/flask.ts';
import { titratePhosphate, titratePhosphoricAcid } from '../bath/titration/phosphate.ts';
import type { TitrationSample, TitrationUncertainty } from '../bath/titration/sample.ts';
import { titrateSulfuricAcid, titrateSulfuricAluminium } from '../bath/titration/sulfuric.ts';
import { CalcError } from '../errors.ts';
import type { SampleMethod, TitrationReadings } from './readings.ts';

/** What one flask says: amounts by the key of the component, the solute that makes the bath first. */
export interface FlaskFindings {
  components: [key: string, found: BathComponent][];
  densityKgPerM3: number;
  flags: string[];
}

/** Works one flask out; `at` is its place among the replicates. */
export function flaskFindings(input: {
  readings: TitrationReadings;
  at: number;
  titrantEqPerLitre: number;
  uncertainty: Required<TitrationUncertainty>;
}): FlaskFindings {
  const { readings, at } = input;
  const { titrantEqPerLitre, uncertainty } = input;
  const blank = readings.blankMl;
  const fromZero = (ml: number): number => ml - blank;
  const shared = (amount: number) => ({ titrantEqPerLitre, uncertainty, sample: sampleOf(readings, amount) });
  const twoEndPoints = (
    flask: { firstEndPointMl: number; secondEndPointMl: number },
    second: 'from-zero' | 'from-first',
  ) => ({
    firstEndPointMl: fromZero(flask.firstEndPointMl),
    secondEndPointMl: second === 'from-zero' ? fromZero(flask.secondEndPointMl) : flask.secondEndPointMl,
    secondReading: second,
  });

  switch (readings.kind) {
    case 'caustic-two-end-points': {
      const flask = flaskAt(readings.replicates, at);
      const { solute, secondReading } = readings;
      const found = titrateCausticTwoEndPoints({
        solute,
        ...shared(flask.amount),
        ...twoEndPoints(flask, secondReading),
      });
      return caustic(solute, found);
    }
    case 'caustic-barium-chloride': {
      const flask = flaskAt(readings.replicates, at);
      const { solute } = readings;
      const found = titrateCausticBariumChloride({
        solute,
        ...shared(flask.amount),
        totalMl: fromZero(flask.totalMl),
        hydroxideMl: fromZero(flask.hydroxideMl),
      });
      return caustic(solute, found);
    }
    case 'sulfuric-free-acid': {
      const flask = flaskAt(readings.replicates, at);
      const found = titrateSulfuricAcid({
        aluminium: readings.aluminium,
        ...shared(flask.amount),
        endPointMl: fromZero(flask.endPointMl),
      });
      return {
        ...found,
        components: [[readings.aluminium === 'counted' ? 'totalSulfate' : 'H2SO4', found.acid]],
      };
    }
    case 'sulfuric-aluminium': {
      const flask = flaskAt(readings.replicates, at);
      const found = titrateSulfuricAluminium({
        method: readings.procedure,
        ...shared(flask.amount),
        acidMl: fromZero(flask.acidMl),
        totalMl: fromZero(flask.totalMl),
      });
      const { freeAcid, aluminium, totalSulfateAsAcid } = found;
      return {
        ...found,
        components: [
          ['H2SO4', freeAcid],
          ['Al', aluminium],
          ['totalSulfate', totalSulfateAsAcid],
        ],
      };
    }
    case 'phosphate': {
      const flask = flaskAt(readings.replicates, at);
      const found = titratePhosphate({
        ...shared(flask.amount),
        ...twoEndPoints(flask, readings.secondReading),
      });
      return {
        ...found,
        components: [
          ['Na3PO4', found.totalAsNa3PO4],
          ['NaOH', found.freeHydroxide],
          ['Na2HPO4', found.hydrogenPhosphate],
          ['Na3PO4-left', found.trisodiumPhosphate],
          ['Na3PO4-12H2O', found.totalAsDodecahydrate],
        ],
      };
    }
    case 'phosphoric': {
      const flask = flaskAt(readings.replicates, at);
      const found = titratePhosphoricAcid({
        ...shared(flask.amount),
        ...twoEndPoints(flask, readings.secondReading),
      });
      return { ...found, components: [['H3PO4', found.phosphoricAcid]] };
    }
  }
}

const caustic = (
  solute: 'KOH' | 'NaOH',
  found: { hydroxide: BathComponent; carbonate: BathComponent; totalAlkaliAsHydroxide: BathComponent } & Pick<
    FlaskFindings,
    'densityKgPerM3' | 'flags'
  >,
): FlaskFindings => ({
  densityKgPerM3: found.densityKgPerM3,
  flags: found.flags,
  components: [
    [solute, found.hydroxide],
    [carbonateOf[solute], found.carbonate],
    ['totalAlkali', found.totalAlkaliAsHydroxide],
  ],
});

function flaskAt<T>(flasks: readonly T[], index: number): T {
  const flask = flasks[index];
  if (flask === undefined)
    throw new CalcError({
      code: 'malformed',
      argument: 'replicates',
      given: index,
      allowed: 'at least one flask',
    });
  return flask;
}

const sampleOf = ({ basis, temperatureC, dilution }: TitrationReadings, amount: number): TitrationSample => ({
  temperatureC,
  ...(dilution === null ? {} : { dilution }),
  ...(basis === 'volume' ? { volumeMl: amount } : { massG: amount }),
});

/** Titrant's uncertainty is common to all flasks, those of readings and sample are each flask's own. */
export function titrationUncertainty(
  method: SampleMethod,
): Required<TitrationUncertainty> & { titrant: number } {
  const { titrant } = method;
  if (titrant === null)
    throw new CalcError({
      code: 'malformed',
      argument: 'titrant',
      given: null,
      allowed: 'the titrant that was used',
    });
  return {
    titrant: titrant.eqPerLitre,
    titrantRelative: titrant.standardUncertaintyEqPerLitre / titrant.eqPerLitre,
    readingMl: method.uncertainty.readingMl,
    sampleRelative: method.uncertainty.sampleRelative,
  };
}
