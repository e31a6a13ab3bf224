import type { Disposition, TakenFrom } from '@huelot/contracts';

interface Changes {
  acceptedChange: number;
  rejectedChange: number;
  shippedChange: number;
}

/**
 * By how much the counts of a lot change when it is decided about pieces. Pieces that go round are counted again by their next final
 * check; what was shipped and came back is not shipped any more; what is used as it is was accepted after all.
 *
 * @example
 * countsAfter({ disposition: 'scrap', takenFrom: 'accepted', pieces: 2 }) // { acceptedChange: -2, rejectedChange: 2, shippedChange: 0 }
 */
export function countsAfter({
  disposition,
  takenFrom,
  pieces,
}: {
  disposition: Disposition;
  takenFrom: TakenFrom;
  pieces: number;
}): Changes {
  const stays = disposition === 'use-as-is' || disposition === 'concession';
  const wasAccepted = takenFrom === 'accepted' || takenFrom === 'shipped';
  if (stays)
    return takenFrom === 'rejected'
      ? { acceptedChange: pieces, rejectedChange: -pieces, shippedChange: 0 }
      : { acceptedChange: 0, rejectedChange: 0, shippedChange: 0 };
  return {
    acceptedChange: wasAccepted ? -pieces : 0,
    rejectedChange: disposition === 'rework' ? (wasAccepted ? 0 : -pieces) : wasAccepted ? pieces : 0,
    shippedChange: takenFrom === 'shipped' ? -pieces : 0,
  };
}
