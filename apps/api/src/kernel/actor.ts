import { may, type Permission, type Proof, type Role } from '@huelot/contracts';

/** Whoever is asking: a person on one sign-in from one address. */
export interface Actor {
  readonly personId: number;
  readonly name: string;
  readonly displayName: string;
  readonly roles: readonly Role[];
  readonly units: 'metric' | 'us';
  readonly signInId: number;
  readonly address: string;
  /** The credential that was given again for a signature, while it counts. */
  readonly provedWith?: Proof | null;
  /** A second factor must be added before anything else is done. */
  readonly lacksSecondFactor?: boolean;
}

/**
 * Whether the actor holds a permission.
 *
 * @example
 * actorMay(actor, 'rates.read')
 */
export const actorMay = (actor: Actor, permission: Permission): boolean => may(actor.roles, permission);
