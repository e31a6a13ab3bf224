/** A strength as it is typed. */
export interface StrengthValues {
  eqPerLitre: number | null;
  standardUncertaintyEqPerLitre: number | null;
  standardisedOn: string;
}

/** What is sent: a missing strength goes as 0, which the server refuses by name; without an uncertainty none is known. */
export const strengthOf = (values: StrengthValues) => ({
  eqPerLitre: values.eqPerLitre ?? 0,
  standardUncertaintyEqPerLitre: values.standardUncertaintyEqPerLitre ?? 0,
  standardisedOn: values.standardisedOn,
});
