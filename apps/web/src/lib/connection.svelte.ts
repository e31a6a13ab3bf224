/** Whether the server answers, and whether it still knows who is signed in. Only `api.ts` reports to it. */
class Connection {
  /** The last call got no answer. */
  offline = $state(false);
  /** The server has ended this sign-in while a page was open. */
  expired = $state(false);

  answered() {
    this.offline = false;
  }

  lost() {
    this.offline = true;
  }

  signedOut() {
    this.expired = true;
  }

  signedIn() {
    this.expired = false;
  }
}

export const connection = new Connection();
