import type { Me } from '@huelot/contracts';

declare global {
  namespace App {
    interface PageData {
      /** Who is signed in; absent on the pages before sign-in. */
      me?: Me;
      /** The page's name in the browser's tab. */
      title?: string;
    }
    interface PageState {
      /** Names the rows that a list showed here, beyond its first page. */
      rows?: string;
    }
    interface Error {
      message: string;
      /** Quote it to whoever runs the server. */
      reference?: string;
    }
  }
}
