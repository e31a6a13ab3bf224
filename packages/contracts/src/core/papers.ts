import { z } from 'zod';
import { Count, Id, Instant, SystemOfUnits } from '../kernel/scalars.ts';

/** A paper as it was handed out. It is kept, and downloaded again it is the same bytes. */
export const IssuedPaper = z
  .object({
    id: Id,
    /** `Q-00012 revision 2` */
    title: z.string(),
    /** 1 as issued; where a paper shows what happened since, it is a further issue. */
    issue: z.int().min(1),
    units: SystemOfUnits,
    issuedAt: Instant,
    issuedBy: z.string(),
    sizeBytes: Count,
    /** SHA-256 of the file, in hexadecimal. */
    sha256: z.string().regex(/^[0-9a-f]{64}$/),
    /** Where to download it, below `/api`. */
    path: z.string(),
  })
  .meta({ id: 'IssuedPaper' });
export type IssuedPaper = z.output<typeof IssuedPaper>;

export const IssuedPapers = z.object({ items: z.array(IssuedPaper) });
