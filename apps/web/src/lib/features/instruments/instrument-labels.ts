import type { Instrument, InstrumentFault } from '@huelot/contracts';

export const instrumentKinds: Record<Instrument['kind'], string> = {
  burette: 'burette',
  pipette: 'pipette',
  balance: 'balance',
  'ph-meter': 'pH meter',
  'conductivity-meter': 'conductivity meter',
  hydrometer: 'hydrometer',
  thermometer: 'thermometer',
  'electrical-meter': 'voltmeter or ammeter',
  timer: 'timer',
  'flow-meter': 'flow meter',
  'thickness-gauge': 'coating thickness gauge',
  'length-gauge': 'micrometer or caliper',
  'colour-meter': 'colour meter',
  other: 'other',
};

/** Why an instrument is not to be used, as a badge. */
export const faultBadges: Record<InstrumentFault, { tone: 'danger' | 'caution'; label: string }> = {
  failed: { tone: 'danger', label: 'failed calibration' },
  overdue: { tone: 'caution', label: 'calibration overdue' },
};

export const faultOf = ({
  calibrationFailed,
  calibrationOverdue,
}: Pick<Instrument, 'calibrationFailed' | 'calibrationOverdue'>): InstrumentFault | null =>
  calibrationFailed ? 'failed' : calibrationOverdue ? 'overdue' : null;
