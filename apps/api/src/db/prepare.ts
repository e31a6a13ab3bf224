import { migrate } from './migrate.ts';
import { grantToService, readPowers, readUser } from './roles.ts';

/**
 * Brings a database to the state this build needs, as the owner of its tables, and lets the role of the service work in
 * it. Returns what whoever runs the service should know.
 */
export async function prepareDatabase({
  ownerUrl,
  serviceUrl,
}: {
  ownerUrl: string;
  serviceUrl: string;
}): Promise<string[]> {
  await migrate(ownerUrl).catch(async (error: unknown) => {
    const { code, cause } = error as { code?: string; cause?: { code?: string } };
    if (code !== '42501' && cause?.code !== '42501') throw error;
    throw new Error(
      `The database needs changes that the role ${await readUser(ownerUrl)} may not make. Run “npm run migrate” with HUELOT_OWNER_URL ` +
        'set to the role that owns the tables, or set it for the service.',
      { cause: error },
    );
  });
  const user = await readUser(serviceUrl);
  if (ownerUrl !== serviceUrl) await grantToService(ownerUrl, user);
  const { isSuperuser, ownsTables } = await readPowers(serviceUrl);
  if (!isSuperuser && !ownsTables) return [];
  return [
    `The service works as ${user}, which ${isSuperuser ? 'is a superuser' : 'owns the tables'} and can switch the rules of the record off. ` +
      'See “Two roles” in docs/operations.md.',
  ];
}
