/** The picture beside a caution. */
export type CautionSign =
  | 'pour-order'
  | 'no-metal'
  | 'splash'
  | 'scald'
  | 'electricity'
  | 'flammable-gas'
  | 'toxic-gas'
  | 'poison'
  | 'dust'
  | 'level'
  | 'face-shield'
  | 'exhaust'
  | 'eyewash';
