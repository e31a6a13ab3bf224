import { density, mixtureDensity } from '@huelot/calc';
import type { AnalysisReadings, BathUse, Family } from '@huelot/contracts';
import type { Random } from './chance.ts';
import { setups, type WatchedTank } from './lab-book.ts';
import type { Shelf } from './lab-shelf.ts';
import { rates } from './rates.ts';

/** A bath as it really is, and what the bench shows of it. */
export interface SimulatedBath {
  tank: WatchedTank;
  everyDays: number;
  method: string;
  titrantId: number | null;
  instrumentId: number;
  /** What time does, and the work that was booked in it. */
  pass: (use: BathUse) => void;
  readings: (chance: Random) => AnalysisReadings;
  /** What is added when the main figure falls below `below`. */
  correction: {
    lot: 'flake' | 'acid' | 'phosphate';
    below: number;
    take: (decantedShare: number, addedKg: number) => void;
  } | null;
}

const pipetted = { basis: 'volume', temperatureC: 20, blankMl: 0 } as const;
const molarMass = { KOH: 56.1056, K2CO3: 138.205, Na3PO4: 163.94 };
const litresOf = (tank: WatchedTank) => setups[tank].fullVolumeL;
/** What is left of a bath when liquor went out with the work; some of it comes back from the rinse, as the rates say. */
const leftAfter = (tank: WatchedTank, family: Family, areaM2: number) =>
  1 -
  (setups[tank].dragOutLPerM2 * (1 - rates.families[family].chemical.recoveryShare) * areaM2) /
    litresOf(tank);
/** A burette read by a person: about 0.03 mL. */
const ml = (chance: Random, value: number) => Number((value + chance.near(0, 0.06)).toFixed(2));
const twice = <T>(make: () => T): [T, T] => [make(), make()];

/**
 * Caustic: liquor is carried out, carbon dioxide turns hydroxide into carbonate (2 KOH + CO2 -> K2CO3 + H2O). Water is
 * filled up to the mark every morning, so that what evaporates takes nothing along.
 */
function caustic({ acidTitrantId, buretteId }: Shelf): SimulatedBath {
  /** Through a quarter of a square metre under floating balls: made up. */
  const carbonDioxideMolPerDay = 0.5;
  const totalKg =
    (litresOf('T6') * density({ solute: 'KOH', massFraction: 0.4995, temperatureC: 60 }).kgPerM3) / 1000;
  let [kohKg, carbonateKg] = [0.4995 * totalKg, 3];
  return {
    tank: 'T6',
    everyDays: 3.5,
    method: 'CAUSTIC-2',
    titrantId: acidTitrantId,
    instrumentId: buretteId,
    pass: ({ days, areaM2 }) => {
      const left = leftAfter('T6', 'caustic-colour', areaM2);
      const carbonDioxideMol = carbonDioxideMolPerDay * days;
      kohKg = kohKg * left - (2 * carbonDioxideMol * molarMass.KOH) / 1000;
      carbonateKg = carbonateKg * left + (carbonDioxideMol * molarMass.K2CO3) / 1000;
    },
    readings: (chance) => {
      const parts = [
        { solute: 'KOH' as const, massFraction: kohKg / totalKg },
        { solute: 'K2CO3' as const, massFraction: carbonateKg / totalKg },
      ];
      const gramsIn = (0.5 * mixtureDensity({ parts, temperatureC: 20 }).kgPerM3) / 1000;
      const mol = (solute: 'KOH' | 'K2CO3', kg: number) => (gramsIn * kg) / totalKg / molarMass[solute];
      const [hydroxide, carbonate] = [mol('KOH', kohKg), mol('K2CO3', carbonateKg)];
      return {
        kind: 'caustic-two-end-points',
        ...pipetted,
        dilution: { madeUpToMl: 250, takenMl: 25 },
        solute: 'KOH',
        secondReading: 'from-zero',
        replicates: twice(() => {
          const firstEndPointMl = ml(chance, (1000 * (hydroxide + carbonate)) / 0.4992);
          const between = Math.max(0.01, ml(chance, (1000 * carbonate) / 0.4992));
          return {
            amount: 5,
            firstEndPointMl,
            secondEndPointMl: Number((firstEndPointMl + between).toFixed(2)),
          };
        }),
      };
    },
    correction: {
      lot: 'flake',
      below: 0.4915,
      take: (decantedShare, addedKg) => {
        kohKg = kohKg * (1 - decantedShare) + 0.9 * addedKg;
        carbonateKg *= 1 - decantedShare;
      },
    },
  };
}

/** Sulfuric acid: dissolved aluminium and what the rates name beside drag-out use it up, drag-out carries both away. */
function anodizing({ baseTitrantId, buretteId }: Shelf): SimulatedBath {
  let [acid, aluminium] = [181, 5.2];
  const litres = litresOf('T11');
  const totalKg = litres * 1.12;
  /** A third of what the current oxidises (0.3356 g/Ah, Faraday) dissolves: common practice, no source. */
  const aluminiumGPerAh = 0.3356 / 3;
  const { consumptionGPerM2 } = rates.families['dyed-anodize'].chemical;
  return {
    tank: 'T11',
    everyDays: 3.5,
    method: 'ACID-AL-F',
    titrantId: baseTitrantId,
    instrumentId: buretteId,
    pass: ({ areaM2, ampereHours }) => {
      const left = leftAfter('T11', 'dyed-anodize', areaM2);
      acid = acid * left - (consumptionGPerM2 * areaM2) / litres;
      aluminium = aluminium * left + (aluminiumGPerAh * ampereHours) / litres;
    },
    readings: (chance) => ({
      kind: 'sulfuric-aluminium',
      ...pipetted,
      dilution: null,
      procedure: 'fluoride',
      replicates: twice(() => {
        const acidMl = ml(chance, (10 * acid) / (49.0395 * 1.002));
        const totalMl = ml(chance, (10 * acid) / (49.0395 * 1.002) + (10 * aluminium) / (8.994 * 1.002));
        return { amount: 10, acidMl, totalMl: Math.max(acidMl, totalMl) };
      }),
    }),
    correction: {
      lot: 'acid',
      below: 176.5,
      take: (decantedShare, addedKg) => {
        acid = acid * (1 - decantedShare) + (960 * addedKg) / litres;
        aluminium = (aluminium * (1 - decantedShare) * totalKg) / (totalKg * (1 - decantedShare) + addedKg);
      },
    },
  };
}

/** Phosphate: drag-out, and the little that the rates name beside it. */
function phosphate({ weakAcidTitrantId, buretteId }: Shelf): SimulatedBath {
  const litres = litresOf('T4');
  const { consumptionGPerM2 } = rates.families['interference-colour'].chemical;
  let gramsPerLitre = 29.8;
  return {
    tank: 'T4',
    everyDays: 7,
    method: 'PHOSPHATE',
    titrantId: weakAcidTitrantId,
    instrumentId: buretteId,
    pass: ({ areaM2 }) => {
      gramsPerLitre =
        gramsPerLitre * leftAfter('T4', 'interference-colour', areaM2) -
        (consumptionGPerM2 * areaM2) / litres;
    },
    readings: (chance) => ({
      kind: 'phosphate',
      ...pipetted,
      dilution: null,
      secondReading: 'from-zero',
      replicates: twice(() => {
        const phosphorus = (10 * gramsPerLitre) / molarMass.Na3PO4 / 0.1003;
        const first = ml(chance, 1.1 * phosphorus);
        return {
          amount: 10,
          firstEndPointMl: first,
          secondEndPointMl: Number((first + ml(chance, phosphorus)).toFixed(2)),
        };
      }),
    }),
    correction: {
      lot: 'phosphate',
      below: 29.6,
      take: (_decanted, addedKg) => {
        // 42 % of the crystals are the salt.
        gramsPerLitre += (420 * addedKg) / litres;
      },
    },
  };
}

/** A figure on a meter that drifts with the work and is set right now and then without a record of its own. */
function metered(
  { meterId, conductivityMeterId }: Shelf,
  options: {
    tank: WatchedTank;
    kind: 'ph' | 'conductivity';
    everyDays: number;
    from: number;
    perM2: number;
    back: number;
    scatter: number;
  },
): SimulatedBath {
  let value = options.from;
  return {
    tank: options.tank,
    everyDays: options.everyDays,
    method: options.kind === 'ph' ? 'PH' : 'CONDUCTIVITY',
    titrantId: null,
    instrumentId: options.kind === 'ph' ? meterId : conductivityMeterId,
    pass: ({ areaM2 }) => {
      value += options.perM2 * areaM2;
      if ((value - options.back) * options.perM2 > 0) value = options.from;
    },
    readings: (chance) => ({
      kind: options.kind,
      temperatureC: 25,
      replicates: [{ reading: Number(Math.max(0, value + chance.near(0, options.scatter)).toPrecision(3)) }],
    }),
    correction: null,
  };
}

export const simulatedBaths = (shelf: Shelf): SimulatedBath[] => [
  caustic(shelf),
  anodizing(shelf),
  phosphate(shelf),
  metered(shelf, {
    tank: 'T1',
    kind: 'conductivity',
    everyDays: 7,
    from: 6.8,
    perM2: -0.06,
    back: 5.6,
    scatter: 0.1,
  }),
  metered(shelf, {
    tank: 'T5',
    kind: 'conductivity',
    everyDays: 4,
    from: 0.003,
    perM2: 0.0045,
    back: 0.024,
    scatter: 0.002,
  }),
  metered(shelf, {
    tank: 'T12',
    kind: 'ph',
    everyDays: 7,
    from: 5.4,
    perM2: 0.04,
    back: 5.9,
    scatter: 0.1,
  }),
  metered(shelf, {
    tank: 'T13',
    kind: 'ph',
    everyDays: 14.6,
    from: 5.8,
    perM2: 0.03,
    back: 6.2,
    scatter: 0.1,
  }),
];
