/**
 * What a price is computed from. Money is in the currency of the rates, whichever that is; a share of 0.3 is 30 per cent.
 * Optional figures count as nothing when left out, except where a comment says otherwise. `null` means "no such limit".
 */
export interface Job {
  /** Whole pieces in the lot. */
  quantity: number;
  part: JobPart;
  rack: JobRack;
  limits: JobLimits;
  process: JobProcess;
  labour: JobLabour;
  charges: JobCharges;
  rates: JobRates;
  /** What the price is stated in; the currency of the rates, with two decimals, when left out. */
  currency?: JobCurrency | undefined;
}

/** The currency of the price. */
export interface JobCurrency {
  /** Its units for one unit of the currency of the rates; 1 where they are the same. */
  exchangeRate: number;
  /** Decimals it is counted in (ISO 4217): the price is rounded to them, the price of a piece to two more. */
  minorDigits: number;
}

export interface JobPart {
  /** Wetted: every face, bores included. What the baths, the drag-out and the strip see. */
  areaMm2: number;
  /** What draws current; the wetted area when left out. */
  electricalAreaMm2?: number | undefined;
  massKg: number;
  /** The box the piece needs on the rack as it hangs; null when not known. */
  widthMm: number | null;
  heightMm: number | null;
  /** To warm the pieces by `process.temperatureRiseK`. */
  heatCapacityJPerKgK?: number | undefined;
  /** Features masked on each piece, each kind with its own time. */
  masks?: readonly JobMask[] | undefined;
}

export interface JobMask {
  label?: string | undefined;
  /** Features of this kind on one piece. */
  count: number;
  /** To mask and unmask one feature. */
  timeS: number;
  /** Tape, plug or lacquer for one feature. */
  materialCost: number;
}

export interface JobRack {
  hooks: number | null;
  windowWidthMm: number | null;
  windowHeightMm: number | null;
  /** Rows of pieces one behind another; 1 when left out. */
  layers?: number | undefined;
  gapMm: number;
  maxLoadKg: number | null;
  massKg?: number | undefined;
  /** Uninsulated metal of the rack in the solution: it draws current like the pieces. */
  bareAreaMm2?: number | undefined;
}

export interface JobLimits {
  maxCurrentA: number | null;
  /** Rack and pieces together. */
  hoistMaxKg?: number | null | undefined;
  bathVolumeL?: number | null | undefined;
  /** The most wetted area the bath takes at a time, for each litre. */
  maxAreaMm2PerL?: number | null | undefined;
  /** Heat the bath can lose; the load's current times the mean voltage stays below it. */
  coolingKw?: number | null | undefined;
  /** The most pieces ever run in one load with even colour. */
  validatedPieces?: number | null | undefined;
}

export interface JobProcess {
  /** The highest current density of the programme, which sizes the load; 0 for work without current. */
  peakAPerM2: number;
  /** Charge that passes per area over the whole programme. */
  chargeCPerM2: number;
  /** Mean over the programme, weighted by the charge. */
  averageVoltageV: number;
  /** Direct-current energy out over mains energy in. */
  rectifierEfficiency: number;
  /** The time one load occupies the line. */
  cycleS: number;
  /** Heating and cooling power that this work's share of the line takes while a load runs. */
  heatingKw: number;
  /** By how much the pieces are warmed. */
  temperatureRiseK?: number | undefined;
  rinseLPerLoad: number;
  /** One entry for each bath that is consumed or dragged out. */
  chemicals: readonly JobChemical[];
}

export interface JobChemical {
  label?: string | undefined;
  /** Used up by the work itself. */
  consumptionGPerM2: number;
  pricePerKg: number;
  dragOutLPerM2: number;
  concentrationGPerL: number;
  /** Share of the drag-out that is brought back. */
  recoveryShare: number;
}

export interface JobLabour {
  /** Once a lot, first piece included. */
  setupS: number;
  /** These four for each piece. */
  rackS: number;
  unrackS: number;
  inspectS: number;
  packS: number;
}

export interface JobCharges {
  /** Once a lot. */
  certificateCost: number;
  packingCost: number;
  /** Tooling and one-off tests: added after everything else, neither marked up nor expedited. */
  oneOffs?: readonly { label: string; amount: number }[] | undefined;
}

export interface JobRates {
  labourPerHour: number;
  /** Holds equipment, space and the crew of the line. */
  linePerHour: number;
  energyPerKwh: number;
  waterPerM3: number;
  wastePerM3: number;
  /** Taking a faulty film off again, per wetted area. */
  stripPerM2: number;
  /** Share of the pieces that go round again. */
  reworkShare: number;
  /** Whether reworked pieces fail at the same rate again: the allowance becomes share / (1 - share). */
  reworkMayFailAgain?: boolean | undefined;
  /** Of the direct cost. */
  overheadShare?: number | undefined;
  /** Absorbed by each hour of labour, besides or instead of the share. */
  overheadPerLabourHour?: number | undefined;
  /** Of the price. Give this or `markupShare`, not both. */
  marginShare?: number | undefined;
  /** Of the cost. */
  markupShare?: number | undefined;
  minimumLot: number;
  /** Put on last, on the price after the minimum. */
  expediteShare: number;
}

/** The part of a job that decides how many pieces go into a load. */
export type LoadJob = Pick<Job, 'quantity' | 'part' | 'rack' | 'limits'> & {
  process: Pick<JobProcess, 'peakAPerM2' | 'averageVoltageV'>;
};
