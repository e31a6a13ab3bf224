/** Choices of a select from the names of its values. */
export const optionsOf = <T extends string>(names: Record<T, string>, values: readonly T[]) =>
  values.map((value) => ({ value, label: names[value] }));
