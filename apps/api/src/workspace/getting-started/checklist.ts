import type { GettingStarted, SetUpItem } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { type ShopFacts, readShopFacts } from './queries.ts';
import { exampleRatesNote } from './starter/rates.ts';

const count = (number: number, one: string, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;
const needed = { needed: true, starterSet: null } as const;
const later = { needed: false, starterSet: null } as const;

/** The one rule of what a shop needs, in the order in which each rests on those before it. */
export function setUpItems(facts: ShopFacts): SetUpItem[] {
  const example = facts.rateNote === exampleRatesNote;
  return [
    {
      ...needed,
      ...{
        key: 'shop',
        title: 'Name and address of the shop',
        page: 'shop',
        verb: 'Enter the address',
      },
      done: facts.name.trim() !== '' && facts.address.trim() !== '',
      detail: `They stand on every paper. Money is in ${facts.currency}, the clock is that of ${facts.timeZone}; each person chooses metric or US units under My account.`,
    },
    {
      ...needed,
      ...{
        key: 'materials',
        title: 'A material',
        page: 'materials',
        verb: 'Materials',
        starterSet: 'materials',
      },
      done: facts.materials > 0,
      detail:
        facts.materials > 0 ? count(facts.materials, 'material') : 'Gives a part its mass and its metal.',
    },
    {
      ...needed,
      ...{ key: 'tanks', title: 'A tank', page: 'newTank', verb: 'Add a tank', starterSet: 'tanks' },
      done: facts.tanks > 0,
      detail: facts.tanks > 0 ? count(facts.tanks, 'tank') : 'What the steps of a recipe are done in.',
    },
    {
      ...needed,
      ...{ key: 'supplies', title: 'A power supply connected to a tank', page: 'newSupply' },
      ...{ verb: 'Add a supply', starterSet: 'supplies' },
      done: facts.connectedSupplies > 0,
      detail:
        facts.connectedSupplies > 0
          ? `${count(facts.connectedSupplies, 'supply', 'supplies')} connected`
          : 'Its current is a limit of every load.',
    },
    {
      ...needed,
      ...{ key: 'racks', title: 'A rack', page: 'newRack', verb: 'Add a rack', starterSet: 'racks' },
      done: facts.racks > 0,
      detail:
        facts.racks > 0 ? count(facts.racks, 'rack') : 'Its hooks and its window are limits of every load.',
    },
    {
      ...needed,
      ...{
        key: 'rates',
        title: 'Rates and margin',
        page: 'newRates',
        verb: 'Enter the rates',
        starterSet: 'rates',
      },
      done: facts.rateNote !== null && !example,
      detail: example
        ? 'The example rates are in force. They price a trial; put your own in before a price goes to a customer.'
        : facts.rateNote === null
          ? 'What an hour, a kilowatt hour and a square metre cost here.'
          : 'In force.',
      // A price can be had with the examples; the item stays open until they are replaced.
      needed: facts.rateNote === null,
    },
    {
      ...needed,
      ...{ key: 'recipes', title: 'An approved recipe', starterSet: 'recipes' },
      ...(facts.draftRecipes > 0
        ? { page: 'recipeDrafts', verb: 'Approve a draft' }
        : { page: 'newRecipe', verb: 'Write a recipe' }),
      done: facts.approvedRecipes > 0,
      detail:
        facts.approvedRecipes > 0
          ? `${facts.approvedRecipes} approved`
          : facts.draftRecipes > 0
            ? `${count(facts.draftRecipes, 'draft')} to prove and approve`
            : 'The route that work takes, with its settings.',
    },
    {
      ...later,
      ...{ key: 'approver', title: 'Somebody who approves', page: 'newPerson', verb: 'Invite a person' },
      done: facts.approvers > 1 || facts.selfApproval,
      detail:
        facts.approvers > 1
          ? `${facts.approvers} people may approve`
          : facts.selfApproval
            ? 'You approve your own drafts by name; the record says that nobody else did.'
            : 'Nobody approves what they wrote. Invite a second person, or allow approval by the author under Setup, Approvals.',
      needed: facts.approvedRecipes === 0,
    },
    {
      ...needed,
      ...{ key: 'customers', title: 'A customer', page: 'newCustomer', verb: 'Add a customer' },
      done: facts.customers > 0,
      detail:
        facts.customers > 0
          ? count(facts.customers, 'customer')
          : 'By hand, or a whole list from a spreadsheet.',
    },
    {
      ...needed,
      ...{ key: 'parts', title: 'A part that a recipe is for', page: 'newPart', verb: 'Add a part' },
      done: facts.matchedParts > 0,
      detail:
        facts.matchedParts > 0
          ? count(facts.matchedParts, 'part')
          : facts.parts > 0
            ? `${count(facts.parts, 'part')}, but no approved recipe is for the metal`
            : 'Its area, its mass and its metal.',
    },
    {
      ...needed,
      ...{ key: 'quotation', title: 'The first quotation' },
      ...(facts.draftQuotations > 0
        ? { page: 'quotations', verb: 'Send the draft' }
        : { page: 'newQuotation', verb: 'Quote' }),
      done: facts.sentQuotations > 0,
      detail: facts.sentQuotations > 0 ? `${facts.sentQuotations} sent` : 'Priced from all of the above.',
    },
    {
      ...later,
      ...{ key: 'baths', title: 'A bath in a tank', page: 'newBath', verb: 'New bath' },
      done: facts.baths > 0,
      detail:
        facts.baths > 0
          ? count(facts.baths, 'bath')
          : 'Before work is run. One that stands already is entered with the day it was made up, and its past analyses with it.',
    },
    {
      ...later,
      ...{ key: 'chemicals', title: 'Chemicals', page: 'newChemical', verb: 'Add a chemical' },
      ...{ starterSet: 'chemicals', done: facts.chemicals > 0 },
      detail:
        facts.chemicals > 0
          ? count(facts.chemicals, 'chemical')
          : 'For additions to baths, with stock and cautions.',
    },
    {
      ...later,
      ...{ key: 'methods', title: 'Methods of analysis', page: 'methods', verb: 'Look them over' },
      done: facts.methods > 0,
      detail: `${facts.methods} in force from the start, from published titrations; make a revision where yours differs.`,
    },
  ];
}

/** What the shop still lacks; nothing is missing any more once a quotation was sent. */
export async function readGettingStarted(execute: SqlExecutor): Promise<GettingStarted> {
  const facts = await readShopFacts(execute);
  const items = setUpItems(facts);
  const waits = items.filter((item) => item.needed);
  return {
    items,
    needed: waits.length,
    missing: facts.sentQuotations > 0 ? 0 : waits.filter(({ done }) => !done).length,
  };
}
