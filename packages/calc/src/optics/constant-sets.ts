import type { ConstantSet } from './constant-set.ts';
import { Al2O3_Boidin2016 } from './data/Al2O3_Boidin2016.ts';
import { Al2O3_Franta2015 } from './data/Al2O3_Franta2015.ts';
import { Al_McPeak2015 } from './data/Al_McPeak2015.ts';
import { Al_Rakic1995 } from './data/Al_Rakic1995.ts';
import { Fe2O3_Querry1985o } from './data/Fe2O3_Querry1985o.ts';
import { Fe3O4_estimate } from './data/Fe3O4_estimate.ts';
import { Fe3O4_Querry1985 } from './data/Fe3O4_Querry1985.ts';
import { Fe_Johnson1974 } from './data/Fe_Johnson1974.ts';
import { Fe_Querry1985 } from './data/Fe_Querry1985.ts';
import { Nb2O5_Franta2024 } from './data/Nb2O5_Franta2024.ts';
import { Nb2O5_Lemarchand2013 } from './data/Nb2O5_Lemarchand2013.ts';
import { Nb_Weaver1973 } from './data/Nb_Weaver1973.ts';
import { Ta2O5_Gao2012 } from './data/Ta2O5_Gao2012.ts';
import { Ta2O5_RodriguezDeMarcos2016 } from './data/Ta2O5_RodriguezDeMarcos2016.ts';
import { Ta_Weaver1974 } from './data/Ta_Weaver1974.ts';
import { Ti_Johnson1974 } from './data/Ti_Johnson1974.ts';
import { Ti_LynchHandbook } from './data/Ti_LynchHandbook.ts';
import { Ti_Palm2018 } from './data/Ti_Palm2018.ts';
import { TiO2_Franta2015 } from './data/TiO2_Franta2015.ts';
import { TiO2_Jolivet2023amorphous } from './data/TiO2_Jolivet2023amorphous.ts';
import { TiO2_Sarkar2019 } from './data/TiO2_Sarkar2019.ts';
import { TiO2_Siefke2016 } from './data/TiO2_Siefke2016.ts';
import { Zr_Palm2018 } from './data/Zr_Palm2018.ts';
import { Zr_Querry1987 } from './data/Zr_Querry1987.ts';
import { ZrO2_Synowicki2004 } from './data/ZrO2_Synowicki2004.ts';
import { ZrO2_Wood1982 } from './data/ZrO2_Wood1982.ts';

/**
 * Every set of optical constants by name. Importing this ships them all (about 16 kB compressed); a page that
 * needs one system imports that system from `systems.ts` instead.
 */
export const constantSets = {
  Al2O3_Boidin2016,
  Al2O3_Franta2015,
  Al_McPeak2015,
  Al_Rakic1995,
  Fe2O3_Querry1985o,
  Fe3O4_estimate,
  Fe3O4_Querry1985,
  Fe_Johnson1974,
  Fe_Querry1985,
  Nb2O5_Franta2024,
  Nb2O5_Lemarchand2013,
  Nb_Weaver1973,
  Ta2O5_Gao2012,
  Ta2O5_RodriguezDeMarcos2016,
  Ta_Weaver1974,
  Ti_Johnson1974,
  Ti_LynchHandbook,
  Ti_Palm2018,
  TiO2_Franta2015,
  TiO2_Jolivet2023amorphous,
  TiO2_Sarkar2019,
  TiO2_Siefke2016,
  Zr_Palm2018,
  Zr_Querry1987,
  ZrO2_Synowicki2004,
  ZrO2_Wood1982,
} as const satisfies Record<string, ConstantSet>;

export type ConstantSetName = keyof typeof constantSets;
