/** A package as it is typed. */
export interface TypedPackage {
  shipmentId: number;
  kind: string;
  quantity: number | null;
  netKg: number | null;
  grossKg: number | null;
}

/**
 * The packages for what is chosen: those that were typed for it stay, and what has none yet starts in one.
 *
 * @example
 * packagesFor([{ id: 7, quantity: 24 }], []) // one carton that holds 24 pieces of shipment 7
 */
export function packagesFor(
  chosen: readonly { id: number; quantity: number }[],
  typed: readonly TypedPackage[],
): TypedPackage[] {
  const kept = typed.filter(({ shipmentId }) => chosen.some(({ id }) => id === shipmentId));
  const fresh = chosen.filter(({ id }) => !kept.some(({ shipmentId }) => shipmentId === id));
  return [
    ...kept,
    ...fresh.map(({ id, quantity }) => ({
      ...{ shipmentId: id, kind: 'carton', quantity, netKg: null, grossKg: null },
    })),
  ];
}
