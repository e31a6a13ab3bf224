/** Rules, not schemas: which metals, racks, tanks and power supplies go with a route. Pages and the service use the same. */
export * from './forbidden-contents.ts';
export * from './route-metals.ts';
export * from './tank-fit.ts';
export * from './usable-supplies.ts';
