import { describe, expect, it } from 'vitest';
import reference from '../../reference/costing/costing_examples.json' with { type: 'json' };
import { EXAMPLE_JOB, type Job, piecesPerLoad, priceJob, priceQuantities } from './index.ts';

/** The examples are written in shop units, as an estimator would; the package takes SI. */
interface Written {
  qty: number;
  area_dm2: number;
  part_kg: number;
  amps_max: number | null;
  peak_a_per_dm2?: number;
  hooks: number | null;
  window_cm: number[];
  part_cm: number[];
  masks?: number;
  mask_s?: number;
  mask_material?: number;
  [other: string]: unknown;
}

const CM = 10;

function jobOf(input: Written): Job {
  const numbers = input as unknown as Record<string, number>;
  const n = (key: string): number => numbers[key] ?? 0;
  const [windowWidth = NaN, windowHeight = NaN] = input.window_cm;
  const [width = NaN, height = NaN] = input.part_cm;
  return {
    quantity: input.qty,
    part: {
      areaMm2: input.area_dm2 * 10_000,
      massKg: input.part_kg,
      widthMm: width * CM,
      heightMm: height * CM,
      masks: input.masks
        ? [{ count: input.masks, timeS: n('mask_s'), materialCost: n('mask_material') }]
        : undefined,
    },
    rack: {
      hooks: input.hooks,
      windowWidthMm: windowWidth * CM,
      windowHeightMm: windowHeight * CM,
      gapMm: n('gap_cm') * CM,
      maxLoadKg: n('load_kg_max'),
    },
    limits: { maxCurrentA: input.amps_max },
    process: {
      peakAPerM2: n('peak_a_per_dm2') * 100,
      chargeCPerM2: n('charge_c_per_dm2') * 100,
      averageVoltageV: n('volts_avg'),
      rectifierEfficiency: n('rectifier_eff'),
      cycleS: n('cycle_min') * 60,
      heatingKw: n('heat_kw'),
      rinseLPerLoad: n('rinse_l_per_load'),
      chemicals: [
        {
          consumptionGPerM2: n('chem_g_per_dm2') * 100,
          pricePerKg: n('chem_price_kg'),
          dragOutLPerM2: n('dragout_ml_per_dm2') / 10,
          concentrationGPerL: n('conc_g_l'),
          recoveryShare: n('recovery'),
        },
      ],
    },
    labour: {
      setupS: n('setup_h') * 3600,
      rackS: n('rack_s'),
      unrackS: n('unrack_s'),
      inspectS: n('inspect_s'),
      packS: n('pack_s'),
    },
    charges: { certificateCost: n('cert_fixed'), packingCost: n('pack_material') },
    rates: {
      labourPerHour: n('labour_per_h'),
      linePerHour: n('line_per_h'),
      energyPerKwh: n('kwh_price'),
      waterPerM3: n('water_m3'),
      wastePerM3: n('waste_m3'),
      stripPerM2: n('strip_per_dm2') * 100,
      reworkShare: n('rework_rate'),
      overheadShare: n('overhead'),
      marginShare: n('margin'),
      minimumLot: n('min_lot'),
      expediteShare: n('expedite'),
    },
  };
}

/** The last figure of a binary double may differ, because areas here are in mm² and there in dm². */
const figures15 = (value: number): number => Number(value.toPrecision(15));

const LINE_NAMES = {
  setup: 'setup',
  rackUnrack: 'rack_unrack',
  masking: 'masking',
  lineTime: 'line_time',
  dcEnergy: 'dc_energy',
  heating: 'heating',
  chemicals: 'chemicals',
  dragOut: 'dragout',
  rinseWater: 'rinse_water',
  waste: 'waste',
  inspection: 'inspection',
  packing: 'packing',
  reworkAllowance: 'rework_allowance',
} as const;

describe.each(Object.entries(reference.examples))('worked quotation %s', (_, { inputs, results }) => {
  const priced = priceJob(jobOf(inputs));

  it('falls into loads by the right limit', () => {
    const { capacity } = results;
    expect(Object.fromEntries(priced.plan.limits.map(({ key, pieces }) => [key, pieces]))).toEqual(
      capacity.limits,
    );
    expect(priced.plan).toMatchObject({
      binding: capacity.binding,
      piecesPerLoad: capacity.parts_per_load,
      loads: capacity.loads,
      lastLoad: capacity.last_load,
      balanced: capacity.balanced,
    });
  });

  it('has every line right to the fifteenth figure', () => {
    const lines = Object.fromEntries(
      priced.lines.map(({ key, amount }) => [LINE_NAMES[key], figures15(amount)]),
    );
    const expected = Object.entries(results.lines).map(([name, amount]) => [name, figures15(amount)]);
    expect(lines).toEqual(Object.fromEntries(expected));
  });

  it('takes the right amounts of area, energy, bath and water', () => {
    const { areaMm2, dcKwh, heatKwh, dragOutL, waterL } = priced.consumption;
    expect([areaMm2 / 10_000, dcKwh, heatKwh, dragOutL, waterL].map(figures15)).toEqual(
      [results.area_dm2, results.kwh_dc, results.kwh_heat, results.dragout_l, results.water_l].map(figures15),
    );
  });

  it('comes to the right price, to the cent and to the last figure before', () => {
    const { directCost, overhead, cost, priceBeforeMinimum, priceAfterMinimum, markupShare } = priced;
    expect(
      [directCost, overhead, cost, priceBeforeMinimum, priceAfterMinimum, markupShare].map(figures15),
    ).toEqual(
      [
        results.direct,
        results.overhead,
        results.cost,
        results.price_before_minimum,
        results.price_after_minimum,
        results.markup_equivalent,
      ].map(figures15),
    );
    expect(priced.minimumApplied).toBe(results.minimum_applied);
    expect(priced.priceTotal).toBe(results.price_total);
    expect(priced.unitPrice).toBe(results.unit_price);
  });
});

describe('quantity series of quotation A', () => {
  const breaks = reference.quantity_breaks_of_A;
  const priced = priceQuantities({
    job: jobOf(reference.examples.A.inputs),
    quantities: breaks.map(({ qty }) => qty),
  });

  it.each(breaks.map((expected, i) => [expected.qty, expected, priced[i]] as const))(
    '%d pieces',
    (_, expected, row) => {
      expect(row).toMatchObject({
        quantity: expected.qty,
        priceTotal: expected.total,
        unitPrice: expected.unit,
        minimumApplied: expected.minimum_applied,
      });
      expect(row?.plan.loads).toBe(expected.loads);
    },
  );

  it('59 pieces at the 25-piece unit price (292.55) cost more than 120 pieces (229.47): the list says from where', () => {
    const [at25, at120] = priceQuantities({ job: EXAMPLE_JOB, quantities: [120, 25] });
    expect(59 * (at25?.unitPrice ?? 0)).toBeCloseTo(292.55, 2);
    expect(at120?.priceTotal).toBe(229.47);
    expect(at25?.nextBreakCheaperFrom).toBe(47);
    expect(46 * (at25?.unitPrice ?? 0)).toBeLessThan(229.47);
    expect(47 * (at25?.unitPrice ?? 0)).toBeGreaterThan(229.47);
    expect(at120?.nextBreakCheaperFrom).toBeNull();
  });

  it('EXAMPLE_JOB is quotation A', () => {
    expect(priceJob(EXAMPLE_JOB)).toEqual(priceJob(jobOf(reference.examples.A.inputs)));
    expect(piecesPerLoad(EXAMPLE_JOB)).toEqual(priceJob(EXAMPLE_JOB).plan);
  });
});
