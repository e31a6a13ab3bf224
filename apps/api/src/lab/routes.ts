import tanks from './tanks/routes.ts';
import chemicals from './chemicals/routes.ts';
import instruments from './instruments/routes.ts';
import methods from './methods/routes.ts';
import baths from './baths/routes.ts';
import analyses from './analyses/routes.ts';
import additions from './additions/routes.ts';
import dashboard from './dashboard/routes.ts';
import controlCharts from './control-charts/routes.ts';
import notebook from './notebook/routes.ts';
import reminders from './reminders/routes.ts';
import stockRates from './stock-rates/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const lab = [
  tanks,
  chemicals,
  instruments,
  methods,
  baths,
  analyses,
  additions,
  dashboard,
  controlCharts,
  notebook,
  reminders,
  stockRates,
];
