/** Faraday constant, C/mol; exact since the SI of 2019 (CODATA 2018). */
export const FARADAY_C_PER_MOL = 96485.33212;

/** Molar volume of an ideal gas at 25 °C and 101.325 kPa, L/mol (R = 8.314462618 J/(mol K), CODATA 2018, exact). */
export const GAS_L_PER_MOL = (8.314462618 * 298.15) / 101.325;

export const S_PER_H = 3600;
