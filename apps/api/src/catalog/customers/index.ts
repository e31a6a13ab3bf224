export { addCustomer, getCustomer } from './customers.ts';
export { lockCustomers } from './queries.ts';
