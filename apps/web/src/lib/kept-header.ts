/** Marks an answer that the service worker kept from before the network went down. */
export const keptHeader = 'huelot-kept';
