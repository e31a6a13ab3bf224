import { type createRecipe } from '@huelot/contracts';
import type { z } from 'zod';
import { around, clean, dry, inspect, rinse, step, upTo } from './recipe-steps.ts';
import type { Starter } from './starter.ts';

export type RecipeFacts = z.output<typeof createRecipe.body>;

const unproved =
  'From the literature, not proved here: prove it on coupons of your own metal before it is approved.';
const rest = 'Times, currents and the rest of the route are common practice, no source.';

function recipe(
  key: string,
  {
    source,
    evidence,
    notes,
    ...facts
  }: Omit<RecipeFacts, 'changeNote' | 'notes'> &
    Pick<Starter<unknown>, 'source' | 'evidence'> & { notes: string },
): Starter<RecipeFacts> {
  return {
    ...{ key, source, evidence },
    facts: {
      ...facts,
      notes: `${unproved} ${notes} Source: ${source}. ${rest}`,
      changeNote: 'starting point from the literature, not proved here',
    },
  };
}

/** Interference colour in a mild salt; the current falls as the film grows. */
const valve = (volts: number) => [
  clean,
  rinse(),
  step({
    ...{ kind: 'colour', title: `Colour at ${volts} V`, contents: 'mild-salt', seconds: 120 },
    settings: [around('voltageV', volts, 0.5), around('temperatureC', 21, 4)],
    record: ['voltageV', 'currentA', 'temperatureC'],
    electrical: upTo(volts, {
      ...{ mode: 'voltage', rampS: 20, holdS: 60, timeConstantS: 12 },
      ...{ peakCurrentDensityAPerM2: 200, steadyCurrentDensityAPerM2: 5 },
      averageVoltageV: Number((volts * 0.92).toFixed(2)),
    }),
  }),
  rinse('Final rinse'),
  dry,
  inspect,
];

const caustic = (
  title: string,
  { temperatureC, volts, seconds }: Record<'temperatureC' | 'volts' | 'seconds', number>,
) => [
  clean,
  rinse(),
  step({
    ...{ kind: 'colour', title, contents: 'hot-caustic', seconds },
    instructions: 'Steel counter electrode. Neither aluminium nor zinc, tin or brass near this bath.',
    settings: [around('temperatureC', temperatureC, 2), around('voltageV', volts, 0.1)],
    record: ['temperatureC', 'voltageV', 'currentA', 'durationS'],
    electrical: upTo(volts, {
      ...{ mode: 'voltage', rampS: 10, holdS: seconds - 20 },
      ...{ peakCurrentDensityAPerM2: 1000, steadyCurrentDensityAPerM2: 1000, averageVoltageV: volts },
    }),
  }),
  rinse('Rinse long'),
  step({
    ...{ kind: 'rinse', title: 'Hot rinse', contents: 'hot-rinse', seconds: 180 },
    ...{ settings: [around('temperatureC', 70, 10)], record: ['temperatureC'] },
  }),
  dry,
  step({ kind: 'oil', title: 'Inhibitor oil', contents: 'oil', seconds: 120 }),
  inspect,
];

const review =
  'C. Vattanasup et al., CM Dent. J. 44(2), 13-21 (2023), a review: colour at this voltage on titanium';

/** Drafts to begin from. Voltages and colours are as published; a shade of another alloy, bath or surface differs. */
export const starterRecipes: readonly Starter<RecipeFacts>[] = [
  recipe('ti-gold', {
    ...{ name: 'Gold on titanium, 10 V', family: 'interference-colour', baseMetals: ['titanium'] },
    ...{ colour: 'gold', steps: valve(10), source: review, evidence: 'P' },
    notes: 'Published for 10 V; bath and surface were others.',
  }),
  recipe('ti-blue', {
    ...{ name: 'Blue on titanium, 20 V', family: 'interference-colour', baseMetals: ['titanium'] },
    ...{ colour: 'blue, first order', steps: valve(20), evidence: 'P' },
    source: 'Int. J. Biomater. 2015, 395657, table 1: Ti-6Al-4V at 20 V, a film of 48 nm, blue',
    notes: 'Published on Ti-6Al-4V; other grades shift.',
  }),
  recipe('ti-pink', {
    ...{ name: 'Pink on titanium, 75 V', family: 'interference-colour', baseMetals: ['titanium'] },
    ...{ colour: 'pink, second order', steps: valve(75), source: review, evidence: 'P' },
    notes: 'Published for 70 to 80 V.',
  }),
  recipe('steel-black', {
    ...{ name: 'Black on carbon steel', family: 'caustic-colour', baseMetals: ['steel'] },
    ...{ colour: 'black', evidence: 'C' },
    steps: caustic('Black at 90 °C', { temperatureC: 90, volts: 2.4, seconds: 1200 }),
    source: 'common practice, no source: 50 wt% KOH near 90 °C, 2 to 2.5 V, about 1000 A/m²',
    notes: 'Many alloy steels turn brown or gold.',
  }),
  recipe('steel-interference', {
    ...{ name: 'Interference colour on carbon steel', family: 'caustic-colour', baseMetals: ['steel'] },
    ...{ colour: 'as the time gives it', evidence: 'C' },
    steps: caustic('Colour at 50 °C', { temperatureC: 50, volts: 2.2, seconds: 480 }),
    source: 'common practice, no source: 50 wt% KOH near 50 °C, 2 to 2.5 V, about 1000 A/m²',
    notes: 'A coupon drawn out 1 cm a minute shows one band for each minute.',
  }),
  recipe('al-dyed', {
    ...{ name: 'Dyed anodize on aluminium, about 10 µm', family: 'dyed-anodize', baseMetals: ['aluminium'] },
    ...{ colour: 'as the dye gives it', evidence: 'P' },
    source: 'rule of 720, trade press: 14 A/ft² (150 A/m²) for 21 min gives about 0.4 mil near 20 °C',
    notes: 'The dye, its strength and its time are of its maker.',
    steps: [
      clean,
      rinse(),
      step({
        ...{ kind: 'etch', title: 'Etch', contents: 'alkaline-etch', seconds: 120 },
        ...{ settings: [around('temperatureC', 52, 8)], record: ['temperatureC'] },
      }),
      rinse(),
      step({ kind: 'desmut', title: 'Desmut', contents: 'desmut', seconds: 120 }),
      rinse(),
      step({
        ...{ kind: 'anodize', title: 'Anodize', contents: 'sulfuric-anodize', seconds: 1320 },
        settings: [around('currentDensityAPerM2', 150, 15), around('temperatureC', 20, 2)],
        record: ['voltageV', 'currentA', 'temperatureC', 'durationS'],
        electrical: upTo(150, {
          ...{ mode: 'current', rampS: 60, holdS: 1200, averageVoltageV: 16 },
          ...{ peakCurrentDensityAPerM2: 150, steadyCurrentDensityAPerM2: 150 },
        }),
      }),
      rinse('Rinse well'),
      step({
        ...{ kind: 'dye', title: 'Dye', contents: 'dye', seconds: 600 },
        ...{ settings: [around('temperatureC', 55, 5)], record: ['temperatureC'] },
      }),
      rinse(),
      step({
        ...{ kind: 'seal', title: 'Hot seal', contents: 'seal', seconds: 1200 },
        ...{ settings: [around('temperatureC', 96, 3)], record: ['temperatureC'] },
      }),
      dry,
      inspect,
    ],
  }),
];
