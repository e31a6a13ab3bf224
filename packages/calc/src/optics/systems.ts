import type { ConstantSet } from './constant-set.ts';
import { Al2O3_Franta2015 } from './data/Al2O3_Franta2015.ts';
import { Al_Rakic1995 } from './data/Al_Rakic1995.ts';
import { Fe3O4_Querry1985 } from './data/Fe3O4_Querry1985.ts';
import { Fe_Johnson1974 } from './data/Fe_Johnson1974.ts';
import { Nb2O5_Lemarchand2013 } from './data/Nb2O5_Lemarchand2013.ts';
import { Nb_Weaver1973 } from './data/Nb_Weaver1973.ts';
import { Ta2O5_Gao2012 } from './data/Ta2O5_Gao2012.ts';
import { Ta_Weaver1974 } from './data/Ta_Weaver1974.ts';
import { TiO2_Franta2015 } from './data/TiO2_Franta2015.ts';
import { Ti_Johnson1974 } from './data/Ti_Johnson1974.ts';
import { ZrO2_Synowicki2004 } from './data/ZrO2_Synowicki2004.ts';
import { Zr_Querry1987 } from './data/Zr_Querry1987.ts';

/** An oxide on the metal it grows from. */
export interface FilmSystem {
  readonly film: ConstantSet;
  readonly substrate: ConstantSet;
}

/**
 * The default constants of each metal, one constant a metal so that a page ships only what it names. Other
 * published sets move the predicted colour further than any arithmetic does: a calibration holds only with
 * the sets it was fitted with.
 */
export const titaniumSystem: FilmSystem = { film: TiO2_Franta2015, substrate: Ti_Johnson1974 };
export const niobiumSystem: FilmSystem = { film: Nb2O5_Lemarchand2013, substrate: Nb_Weaver1973 };
export const tantalumSystem: FilmSystem = { film: Ta2O5_Gao2012, substrate: Ta_Weaver1974 };
export const zirconiumSystem: FilmSystem = { film: ZrO2_Synowicki2004, substrate: Zr_Querry1987 };
export const steelSystem: FilmSystem = { film: Fe3O4_Querry1985, substrate: Fe_Johnson1974 };
export const aluminiumSystem: FilmSystem = { film: Al2O3_Franta2015, substrate: Al_Rakic1995 };
