import { page } from '$app/state';
import { may, type Me, type Permission } from '@huelot/contracts';

/** Who is signed in, and what their screens should look like. Reads what the signed-in layout loaded. */
class Session {
  get me(): Me | undefined {
    return page.data.me;
  }

  get units() {
    return this.me?.person.units ?? 'metric';
  }

  get timeZone() {
    return this.me?.shop.timeZone ?? 'UTC';
  }

  get currency() {
    return this.me?.shop.currency ?? 'EUR';
  }

  /**
   * Whether one of the person's roles carries the permission. Hides what would be refused; the server decides.
   *
   * @example
   * {#if session.may('parts.write')}<Button href="/parts/new">New part</Button>{/if}
   */
  may(permission: Permission): boolean {
    return may(this.me?.person.roles ?? [], permission);
  }
}

export const session = new Session();
