/** The options given on the command line, all of them allowed; otherwise says what is and ends. */
export function readOptions({ usage, allowed }) {
  const given = process.argv.slice(2);
  if (given.includes('--help')) {
    console.log(usage);
    process.exit(0);
  }
  const unknown = given.filter((option) => !allowed.includes(option));
  if (unknown.length > 0) {
    console.error(`Not an option here: ${unknown.join(' ')}\n\n${usage}`);
    process.exit(2);
  }
  return new Set(given);
}
