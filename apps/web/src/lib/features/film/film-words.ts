import type { FilmEvidence, FilmMethod, FilmPhase, FilmResult, XrayRadiation } from '@huelot/contracts';

export const methodNames: Record<FilmMethod, string> = {
  'cross-section': 'cross-section',
  'coating-mass': 'coating mass',
  diffraction: 'diffraction',
  pores: 'pores',
  'seal-loss': 'seal loss',
};
export const kindNames: Record<FilmEvidence['kind'], string> = {
  'cross-section': 'cross-section, on a picture',
  'coating-mass': 'coating mass, by stripping',
  diffraction: 'X-ray diffraction',
  pores: 'pores, on a picture',
  'pores-typed': 'pores, as a report states them',
  'seal-loss': 'seal loss, in acid',
};
export const phaseWords: Record<FilmPhase, string> = {
  magnetite: 'magnetite, Fe₃O₄',
  maghemite: 'maghemite, γ-Fe₂O₃',
  hematite: 'hematite, α-Fe₂O₃',
  wuestite: 'wüstite, FeO',
  goethite: 'goethite, α-FeOOH',
  ferrite: 'ferrite of the steel, α-Fe',
  anatase: 'anatase, TiO₂',
  rutile: 'rutile, TiO₂',
  titanium: 'titanium of the metal, α-Ti',
};
export const radiationNames: Record<XrayRadiation, string> = {
  'Cu-Ka': 'Cu Kα',
  'Co-Ka': 'Co Kα',
  'Fe-Ka': 'Fe Kα',
  'Cr-Ka': 'Cr Kα',
  'Mo-Ka': 'Mo Kα',
};
/** Told apart from each other on both themes, the metal in grey. */
export const phaseColours: Record<FilmPhase, string> = {
  magnetite: 'var(--series-1)',
  maghemite: 'var(--series-2)',
  hematite: 'var(--series-3)',
  wuestite: 'var(--series-4)',
  goethite: 'var(--series-5)',
  ferrite: 'var(--ink-soft)',
  anatase: 'var(--series-1)',
  rutile: 'var(--series-3)',
  titanium: 'var(--ink-soft)',
};

/**
 * A thickness as people say it: nanometres below a micrometre.
 *
 * @example
 * thicknessText(2004) // '2.00 µm'
 */
export const thicknessText = (nm: number): string =>
  nm < 1000 ? `${Number(nm.toPrecision(3))} nm` : `${(nm / 1000).toPrecision(3)} µm`;

/**
 * With its uncertainty, standard.
 *
 * @example
 * uncertainText({ thicknessNm: 204, standardUncertaintyNm: 7.1 }) // '204 nm, standard uncertainty 7.1 nm'
 */
export const uncertainText = ({
  thicknessNm,
  standardUncertaintyNm,
}: {
  thicknessNm: number;
  standardUncertaintyNm: number;
}): string =>
  `${thicknessText(thicknessNm)}, standard uncertainty ${standardUncertaintyNm < 1000 ? `${Number(standardUncertaintyNm.toPrecision(2))} nm` : `${(standardUncertaintyNm / 1000).toPrecision(2)} µm`}`;

/**
 * With its 95 % interval, in one unit.
 *
 * @example
 * spanText({ thicknessNm: 204, standardUncertaintyNm: 7.1 }) // '204 ± 14 nm'
 */
export function spanText({
  thicknessNm,
  standardUncertaintyNm,
}: {
  thicknessNm: number;
  standardUncertaintyNm: number;
}): string {
  const [divisor, unit] = thicknessNm < 1000 ? [1, 'nm'] : [1000, 'µm'];
  const figure = (nm: number, digits: number) => Number((nm / divisor).toPrecision(digits));
  return `${figure(thicknessNm, 3)} ± ${figure(2 * standardUncertaintyNm, 2)} ${unit}`;
}

export const percent = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;

export const sealVerdicts: Record<'pass' | 'warn' | 'hold', string> = {
  pass: 'the seal passes',
  warn: 'too close to the limit to be sure',
  hold: 'the seal fails',
};
/**
 * What a seal lost, with its 95 %.
 *
 * @example
 * sealText({ lossMgPerDm2: 20.4, standardUncertaintyMgPerDm2: 0.25 }) // '20.4 ± 0.5 mg/dm²'
 */
export const sealText = ({
  lossMgPerDm2,
  standardUncertaintyMgPerDm2,
}: {
  lossMgPerDm2: number;
  standardUncertaintyMgPerDm2: number;
}): string => `${lossMgPerDm2.toFixed(1)} ± ${(2 * standardUncertaintyMgPerDm2).toFixed(1)} mg/dm²`;

/**
 * What a measurement gave, in a line.
 *
 * @example
 * resultWords(result) // 'magnetite, ferrite of the steel'
 */
export function resultWords(result: FilmResult): string {
  if ('thicknessNm' in result) return uncertainText(result);
  if (result.kind === 'seal-loss') return `${sealText(result)}: ${sealVerdicts[result.verdict]}`;
  if (result.kind === 'pores')
    return `${percent(result.areaFraction)} of the surface${result.meanDiameterNm === null ? '' : `, ${thicknessText(result.meanDiameterNm)} across`}`;
  return result.phases.map(({ phase }) => phaseWords[phase]).join('; ');
}

export const couponHref = (seriesId: number, mark: string): string =>
  `/colour-bench/film/coupon?series=${seriesId}&mark=${encodeURIComponent(mark)}`;
