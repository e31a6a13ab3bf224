import type { CalibrationItem } from '@huelot/contracts';
import { revisionStates } from '$lib/features/approval/revision-states.ts';

/** How a calibration is marked: an approved one that readings have left has expired. */
export const stateOf = ({ status, expiredAt }: Pick<CalibrationItem, 'status' | 'expiredAt'>) =>
  status === 'approved' && expiredAt !== null
    ? ({ label: 'expired', tone: 'danger' } as const)
    : revisionStates[status];
