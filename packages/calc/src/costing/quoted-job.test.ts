import { describe, expect, test } from 'vitest';
import { EXAMPLE_JOB, EXAMPLE_QUOTED_JOB } from './example-job.ts';
import { priceJob } from './price-job.ts';
import { quotedJob } from './quoted-job.ts';

const without = {
  ...EXAMPLE_QUOTED_JOB,
  steps: EXAMPLE_QUOTED_JOB.steps.map((step) => ({ ...step, settings: [] })),
};

describe('quotedJob', () => {
  test('puts the worked quotation together from route, rack, supply, rates and choices, to the cent', () => {
    const price = priceJob(quotedJob(without));
    expect(price.directCost).toBeCloseTo(priceJob(EXAMPLE_JOB).directCost, 9);
    expect(price.priceTotal).toBe(372.68);
  });

  test('warms the pieces from 20 °C to the hottest bath: m c ΔT by hand', () => {
    const job = quotedJob(EXAMPLE_QUOTED_JOB);
    expect(job.process.temperatureRiseK).toBe(40);
    // 240 × 0.021 kg × 524 J/(kg K) × 40 K = 105 638.4 J = 0.029344 kWh, at 0.24 a kWh
    const heating = priceJob(job).lines.find(({ key }) => key === 'heating');
    expect(heating?.amount).toBeCloseTo((105_638.4 / 3.6e6) * 0.24, 9);
  });

  test('computes the charge of a falling current when none was measured', () => {
    const steps = without.steps.map((step) =>
      step.electrical === null ? step : { ...step, electrical: { ...step.electrical, chargeCPerM2: null } },
    );
    // 5 A/m² × 180 s + 195 A/m² × 12 s × (1 - e^-15) = 3240 C/m² less a millionth
    expect(quotedJob({ ...without, steps }).process.chargeCPerM2).toBeCloseTo(3240, 2);
  });

  test('weights the mean voltage by charge and sizes the load by the highest density', () => {
    const electrical = {
      peakCurrentDensityAPerM2: 900,
      steadyCurrentDensityAPerM2: 900,
      timeConstantS: null,
      averageVoltageV: 4,
      chargeCPerM2: 1000,
    };
    const steps = [
      ...without.steps,
      { contents: 'alkaline-clean', durationS: 60, dripS: 0, settings: [], electrical },
    ];
    const { process } = quotedJob({ ...without, steps });
    expect(process.peakAPerM2).toBe(900);
    expect(process.averageVoltageV).toBeCloseTo((3000 * 28 + 1000 * 4) / 4000, 12);
    expect(process.cycleS).toBe(900);
  });

  test('charges certificate and expedite only where they were chosen', () => {
    const options = { ...without.options, certificate: false, expedite: true };
    const job = quotedJob({ ...without, options });
    expect(job.charges.certificateCost).toBe(0);
    expect(job.rates.expediteShare).toBe(0.25);
  });

  test('takes no other setting for a temperature, and none that is not set', () => {
    const settings = [
      { quantity: 'voltageV', target: 90 },
      { quantity: 'temperatureC', target: null },
      { quantity: 'temperatureC', target: 55 },
    ];
    const steps = without.steps.map((step, index) => (index === 0 ? { ...step, settings } : step));
    expect(quotedJob({ ...without, steps }).process.temperatureRiseK).toBe(35);
    expect(quotedJob(without).process.temperatureRiseK).toBe(0);
  });

  test('masks the features that were counted, each as was chosen', () => {
    const options = { ...without.options, maskingFeatures: 3 };
    expect(quotedJob({ ...without, options }).part.masks).toEqual([
      { label: 'masked features', count: 3, ...without.options.masking },
    ]);
    expect(quotedJob({ ...without, options: { ...options, maskingFeatures: 0 } }).part.masks).toEqual([]);
  });

  test('work without current has no charge, no voltage, no limit and no supply that loses any', () => {
    const steps = without.steps.map((step) => ({ ...step, electrical: null }));
    const { process, limits } = quotedJob({ ...without, steps, supply: null });
    expect(process).toMatchObject({
      peakAPerM2: 0,
      chargeCPerM2: 0,
      averageVoltageV: 0,
      rectifierEfficiency: 1,
    });
    expect(limits.maxCurrentA).toBeNull();
  });
});
