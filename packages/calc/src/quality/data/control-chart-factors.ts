/**
 * Mean d2 and standard deviation d3 of the range of n standard normal values, by numerical integration of their
 * definitions (Tippett, Biometrika 17, 1925, 364). Evidence D: a test integrates them again by another route; to three
 * decimals they are the tables of Montgomery (2005, appendix VI) and of the NIST/SEMATECH e-Handbook 6.3.2.1.
 */
// prettier-ignore
export const RANGE_FACTORS: readonly (readonly [n: number, d2: number, d3: number])[] = [
  [ 2, 1.12837917, 0.85250247],
  [ 3, 1.69256875, 0.88836800],
  [ 4, 2.05875075, 0.87980820],
  [ 5, 2.32592895, 0.86408194],
  [ 6, 2.53441272, 0.84803969],
  [ 7, 2.70435675, 0.83320534],
  [ 8, 2.84720061, 0.81983149],
  [ 9, 2.97002632, 0.80783427],
  [10, 3.07750546, 0.79705067],
  [11, 3.17287270, 0.78731462],
  [12, 3.25845528, 0.77847834],
  [13, 3.33598035, 0.77041620],
  [14, 3.40676311, 0.76302310],
  [15, 3.47182689, 0.75621143],
  [16, 3.53198279, 0.74990809],
  [17, 3.58788396, 0.74405178],
  [18, 3.64006376, 0.73859085],
  [19, 3.68896302, 0.73348150],
  [20, 3.73495012, 0.72868635],
  [21, 3.77833583, 0.72417334],
  [22, 3.81938464, 0.71991481],
  [23, 3.85832342, 0.71588674],
  [24, 3.89534815, 0.71206818],
  [25, 3.93062922, 0.70844077],
];
