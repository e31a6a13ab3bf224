/** Why a model file cannot be measured, in words for the person who sent it. */
export class ModelFault extends Error {
  override readonly name = 'ModelFault';
}
