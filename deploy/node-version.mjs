// Evaluated before anything that an old Node could not read.
const [major, minor] = process.versions.node.split('.').map(Number);
if (!((major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22)) {
  console.error(
    `Huelot needs Node 20.19 or newer (of the 22 series, 22.12); this is Node ${process.versions.node}. ` +
      'Get a newer one from https://nodejs.org and try again.',
  );
  process.exit(1);
}
