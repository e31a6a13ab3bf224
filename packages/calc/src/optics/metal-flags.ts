const metalFlags: Readonly<Record<string, string>> = {
  Fe: 'a picture of the sequence of colours only: shades on steel are found by trial',
  Al: 'a clear film hardly colours aluminium; dyed colour comes from the dye and is not predicted',
  Zr: 'least certain metal: published constants disagree by up to 35 dE00, shades are found by trial',
};

/** What must be said wherever the colour of a film on this metal is computed. */
export function flagsOfMetal(material: string): string[] {
  const flag = metalFlags[material];
  return flag === undefined ? [] : [flag];
}
