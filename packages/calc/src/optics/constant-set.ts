/** A complex refractive index N = n + i k (k >= 0 absorbs) at the 81 wavelengths 380 to 780 nm by 5 nm. */
export interface OpticalIndex {
  readonly n: readonly number[];
  readonly k: readonly number[];
}

/**
 * A published table of optical constants, resampled to the 81 wavelengths, n and k apart, linear in
 * wavelength.
 */
export interface ConstantSet extends OpticalIndex {
  readonly name: string;
  /** Chemical formula. */
  readonly material: string;
  readonly role: 'metal' | 'oxide';
  readonly source: string;
  readonly sample: string;
  /** Range of the original table and how many of its points lie in 380 to 780 nm. */
  readonly tabulated: string;
  readonly licence: string;
  /**
   * P: read in a stored copy of the source. P-model: computed from its printed model. D: derived from other
   * figures.
   */
  readonly evidence: 'P' | 'P-model' | 'D';
  readonly note: string;
}
