/**
 * Heat and vapour leaving an open tank. Saturation pressure: Buck's form, from memory (19.93 kPa at 60 °C).
 * Evaporation: the form used for pools after Carrier and ASHRAE, from memory. Set together they reproduce the
 * published table of losses from open water tanks (still air, 60 °F) within 1.5 % from 60 to 93 °C and 2.5 % at 99 °C
 * when the draught is taken as 0.25 m/s; below that they read high. Radiation and convection within 9 % of it.
 */
export const evaporationForm = { still: 0.089, perMetrePerSecond: 0.0782, defaultDraughtMPerS: 0.25 } as const;

/** Natural convection from a warm level surface, W/(m2 K^(4/3)), and the emissivity of water and caustic. From memory. */
export const surfaceForm = { convection: 1.52, emissivity: 0.95 } as const;

/** Stefan-Boltzmann constant, W/(m2 K4): CODATA 2018, exact. */
export const stefanBoltzmann = 5.670374419e-8;

/**
 * Heat through tank walls per kelvin between liquid and room, W/(m2 K), derived from the same table at 150 °F:
 * bare steel, and 1, 2 and 3 in of insulation. Evidence D; the bare wall runs from 9.5 at 32 °C to 13.6 at 99 °C.
 */
export const wallTransmittance = { bare: 11.4, insulated25mm: 2.15, insulated50mm: 1.14, insulated75mm: 0.82 } as const;

/**
 * Share of the surface's losses that a cover holds back. Floating balls: 0.55 to 0.85 reported, 0.7 used, evidence P;
 * insulated lid: 0.9, from memory.
 */
export const coverEffectiveness = { none: 0, balls: 0.7, lid: 0.9 } as const;
