/**
 * Published thickness of anodic barrier films per volt. Evidence P: read in a stored copy (abstracts where it says so);
 * M: handbook range written down from memory, unverified.
 */
export interface AnodizingRatio {
  readonly metal: string;
  readonly lowNmPerV: number;
  readonly highNmPerV: number;
  readonly conditions: string;
  readonly source: string;
  readonly evidence: 'P' | 'M';
}

const TI_GREEN = 'J. Mater. Sci. 53, 7294 (2018), doi:10.1007/s10853-018-2070-5 (abstract)';

// prettier-ignore
export const anodizingRatios: readonly AnodizingRatio[] = [
  { metal: 'Ti', lowNmPerV: 2.4, highNmPerV: 2.8, evidence: 'P', conditions: 'to 7.5 V; hydrochloric and sulfuric acid, phosphate of pH 1.6 to 12.1', source: 'J. Electrochem. Soc. 132, 787 (1985) (abstract; volume and page from memory)' },
  { metal: 'Ti', lowNmPerV: 1.8, highNmPerV: 2.0, evidence: 'P', conditions: '20 to 140 V, sodium bicarbonate, room temperature, ultrasound', source: TI_GREEN },
  { metal: 'Ti', lowNmPerV: 2.3, highNmPerV: 2.7, evidence: 'P', conditions: '20 to 140 V, acetic acid, room temperature, ultrasound', source: TI_GREEN },
  { metal: 'Ti', lowNmPerV: 2.17, highNmPerV: 2.4, evidence: 'P', conditions: 'Ti-6Al-4V at 20, 40 and 60 V (48, 92, 130 nm): the ratio falls with voltage', source: 'Int. J. Biomater. 2015, 395657, table 1' },
  { metal: 'Ti', lowNmPerV: 1.5, highNmPerV: 2.8, evidence: 'M', conditions: 'barrier films, all electrolytes', source: 'handbook range' },
  { metal: 'Nb', lowNmPerV: 3.4, highNmPerV: 3.8, evidence: 'P', conditions: '10, 20 and 65 V, 0.1 wt% phosphoric acid, sintered powder, electron microscopy', source: 'Interface stoichiometry and structure in anodic niobium pentoxide (abstract)' },
  { metal: 'Nb', lowNmPerV: 2.2, highNmPerV: 2.9, evidence: 'M', conditions: 'room temperature; contradicts the figure on powder', source: 'handbook range' },
  { metal: 'Ta', lowNmPerV: 1.6, highNmPerV: 1.9, evidence: 'M', conditions: 'room temperature', source: 'handbook range' },
  { metal: 'Zr', lowNmPerV: 2.0, highNmPerV: 2.7, evidence: 'P', conditions: '10 to 30 V, 10 % oxalic acid; end points divided', source: 'doi:10.1080/02670844.2017.1320033 (2017, abstract)' },
];

/**
 * Film that is there at zero volts, nm: on tantalum as C.-C. Sheng et al., Chin. Phys. B 21, 088101 (2012), report it
 * (P, abstract); elsewhere a round figure for the film that air forms (C).
 */
export const airFormedFilmNm: Readonly<Record<string, number>> = { Ti: 2, Nb: 2, Ta: 3.3, Zr: 2 };

/** Highest voltage the published ratios speak of; 100 V where they name none (C). */
export const publishedUpToV: Readonly<Record<string, number>> = { Ti: 140, Nb: 65, Ta: 100, Zr: 30 };
