/** `1 piece`, `48 pieces` */
export const piecesText = (count: number): string => `${count} ${count === 1 ? 'piece' : 'pieces'}`;
