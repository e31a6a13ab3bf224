import { caustic, causticColour, dyed, valve } from './recipe-steps.ts';

/**
 * Every recipe of the invented shop; `before` is a revision that the steps of today took the place
 * of, `coupons` the series that it rests on.
 */
export const book = [
  {
    key: 'blue',
    coupons: ['TI-2-TSP'],
    name: 'Deep blue on titanium',
    family: 'interference-colour',
    baseMetals: ['titanium'],
    colour: 'deep blue, first order',
    before: valve(26),
    steps: valve(28),
  },
  {
    key: 'gold',
    coupons: ['TI-2-TSP'],
    name: 'Straw gold on titanium',
    family: 'interference-colour',
    baseMetals: ['titanium'],
    colour: 'straw gold, first order',
    steps: valve(14),
  },
  {
    key: 'magenta',
    coupons: ['TI-2-TSP'],
    name: 'Magenta on titanium',
    family: 'interference-colour',
    baseMetals: ['titanium'],
    colour: 'magenta, second order',
    steps: valve(66),
  },
  {
    key: 'green',
    coupons: ['NB-TSP'],
    name: 'Green on niobium',
    family: 'interference-colour',
    baseMetals: ['niobium'],
    colour: 'green, second order',
    steps: valve(88),
  },
  {
    key: 'black',
    coupons: ['ST-1075-KOH'],
    name: 'Black on carbon steel',
    family: 'caustic-colour',
    baseMetals: ['steel'],
    colour: 'black',
    steps: caustic(causticColour('Black at 88 °C', { temperatureC: 88, volts: 2.4, minutes: 20 })),
  },
  {
    key: 'peacock',
    coupons: ['ST-PW-KOH', 'ST-1075-KOH'],
    name: 'Peacock on pattern-welded steel',
    family: 'caustic-colour',
    baseMetals: ['steel'],
    colour: 'purple to blue, layers differ',
    steps: caustic(causticColour('Peacock at 52 °C', { temperatureC: 52, volts: 2.2, minutes: 8 })),
  },
  {
    key: 'red',
    coupons: ['AL-RED'],
    name: 'Red dyed anodize',
    family: 'dyed-anodize',
    baseMetals: ['aluminium'],
    colour: 'signal red',
    steps: dyed,
  },
] as const;
export type RecipeKey = (typeof book)[number]['key'];
