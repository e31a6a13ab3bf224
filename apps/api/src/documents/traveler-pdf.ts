import type { SystemOfUnits } from '@huelot/calc';
import {
  standardWords,
  contentsNames,
  selfApprovalStatement,
  type SignOff,
  stepQuantities,
  type Traveler,
  SAFETY_DISCLAIMER,
} from '@huelot/contracts';
import QRCode from 'qrcode';
import { coloursOf, heldTo, swatches, zoneText } from './agreed-colour.ts';
import { dayText, figure, instantText, settingText, timeText, type Reader } from './figures.ts';
import {
  cautions,
  closeDocument,
  facts,
  filmStrip,
  heading,
  inks,
  leftOf,
  openDocument,
  table,
  widthOf,
  write,
} from './page-parts.ts';

/** What stands on the paper of a traveler, and nothing that moves on without it. */
export type PrintedTraveler = Pick<
  Traveler,
  | 'number'
  | 'revision'
  | 'kind'
  | 'reworkOf'
  | 'quantity'
  | 'head'
  | 'changeNote'
  | 'issuedBy'
  | 'issuedAt'
  | 'holds'
> & {
  lotNumber: string;
  /** Why nobody works by it, where that is so. */
  ended: 'superseded' | 'cancelled' | null;
  /** Its final checks; absent before the first, so that what was printed before them is still the same paper. */
  finalChecks?: {
    acceptedCount: number;
    rejectedCount: number;
    reworkCount: number;
    reason: string;
    checkedBy: string;
    checkedAt: string;
  }[];
  steps: (Pick<
    Traveler['steps'][number],
    | 'position'
    | 'kind'
    | 'title'
    | 'instructions'
    | 'contents'
    | 'tank'
    | 'supply'
    | 'durationS'
    | 'dripS'
    | 'settings'
    | 'electrical'
    | 'load'
    | 'record'
  > & {
    signOff:
      | (Pick<
          SignOff,
          'person' | 'doneAt' | 'countIn' | 'countOut' | 'rejectCount' | 'readings' | 'corrections'
        > &
          Partial<Pick<SignOff, 'countCorrections' | 'doneCorrections'>>)
      | null;
  })[];
};

export interface TravelerPaper {
  traveler: PrintedTraveler;
  shop: { name: string; timeZone: string; units: SystemOfUnits };
  publicUrl: string;
}
type Asked = TravelerPaper & {
  /** 1 as issued; a later one shows what happened since. */
  issue: { number: number; at: string; by: string };
};
type Doc = ReturnType<typeof openDocument>;

const QR_POINTS = 84;

/** The traveler on paper: what stands at its head, every step with limits and blanks, the load and rack sheet, cautions. */
export async function travelerPdf(paper: Asked): Promise<Buffer> {
  const { traveler, shop, issue } = paper;
  const reader: Reader = { units: shop.units, timeZone: shop.timeZone };
  const made = `${instantText(issue.at, shop.timeZone)} by ${issue.by}`;
  const sheet = {
    title: `Traveler ${traveler.number} revision ${traveler.revision}`,
    author: shop.name,
    foot: `${shop.name} · ${issue.number === 1 ? `issued ${made}` : `print ${issue.number}, ${made}`}`,
    madeAt: new Date(issue.at),
  };
  const doc = openDocument(sheet);
  filmStrip(doc);
  await head(doc, paper);
  if (issue.number > 1)
    write(doc, `Print ${issue.number}: shows what was on record on ${made}.`, { face: 'strong', gap: 8 });
  if (traveler.ended !== null) {
    write(doc, `THIS REVISION IS ${traveler.ended.toUpperCase()}: DO NOT WORK FROM IT`, {
      face: 'strong',
      size: 14,
      colour: inks.danger,
      gap: 8,
    });
  }
  for (const hold of traveler.holds) {
    write(doc, `THIS LOT IS ON HOLD: ${hold.reason}`, {
      face: 'strong',
      size: 14,
      colour: inks.danger,
      gap: 2,
    });
    write(doc, `Put on hold ${instantText(hold.placedAt, reader.timeZone)} by ${hold.placedBy}`, { gap: 8 });
  }
  partFacts(doc, traveler, reader);
  cautions(doc, 'Cautions for this job', [
    ...traveler.head.hazards.filter((hazard) => hazard !== SAFETY_DISCLAIMER),
    SAFETY_DISCLAIMER,
  ]);
  steps(doc, traveler, reader);
  loadSheet(doc, traveler, reader);
  closing(doc, traveler, reader);
  return closeDocument(doc, sheet);
}

async function head(doc: Doc, { traveler, publicUrl, shop }: Asked): Promise<void> {
  const top = doc.y;
  const url = `${publicUrl}/t/${traveler.number}/${traveler.revision}`;
  const png = await QRCode.toBuffer(url, { errorCorrectionLevel: 'M', margin: 0, width: 420 });
  doc.image(png, leftOf() + widthOf(doc) - QR_POINTS, top, { width: QR_POINTS });
  const width = widthOf(doc) - QR_POINTS - 16;
  write(doc, shop.name, { size: 9, colour: inks.soft, width, gap: 0, y: top });
  write(doc, traveler.kind === 'rework' ? 'Rework traveler' : 'Traveler', {
    face: 'strong',
    size: 20,
    width,
    gap: 0,
  });
  write(doc, `${traveler.number}  revision ${traveler.revision}`, {
    face: 'figure',
    size: 15,
    width,
    gap: 2,
  });
  write(
    doc,
    `Lot ${traveler.lotNumber}, ${traveler.quantity} pieces${traveler.head.lot.ofLots > 1 ? `, one of ${traveler.head.lot.ofLots} lots of the line` : ''}`,
    { size: 11, width },
  );
  if (traveler.reworkOf)
    write(doc, `continues ${traveler.reworkOf.number} revision ${traveler.reworkOf.revision}`, { width });
  if (traveler.changeNote) write(doc, `Changed: ${traveler.changeNote}`, { width });
  doc.y = Math.max(doc.y, top + QR_POINTS) + 8;
}

function partFacts(doc: Doc, traveler: PrintedTraveler, reader: Reader): void {
  const { head: at } = traveler;
  const area = (mm2: number) => figure('area', mm2, reader.units);
  const colour = at.agreedColour;
  facts(doc, [
    ['Customer', `${at.customer.number} ${at.customer.name}`],
    ['Order, line', `${at.order.number} line ${at.order.line}`],
    ['Their order', at.order.customerOrderNumber],
    ['Part, drawing revision', `${at.part.number} rev ${at.part.revision}`],
    ['Description', at.part.description],
    ['Base metal', [at.material.name, at.material.condition].filter(Boolean).join(', ')],
    ['Condition received', at.part.conditionReceived],
    ['Specification', [at.specification, at.specificationRevision].filter(Boolean).join(' ')],
    [
      'Colour',
      colour === null
        ? 'none agreed'
        : [`${colour.name}, ${standardWords(colour)}`, ...heldTo(colour)].join('. '),
    ],
    ...at.zones.map(
      (zone) =>
        [
          `Zone: ${zone.name}`,
          zoneText(zone, (own) => [`${own.name}, ${standardWords(own)}`, ...heldTo(own)].join('. ')),
        ] as const,
    ),
    [
      'Recipe',
      `${at.recipe.number} ${at.recipe.name}, revision ${at.recipe.revision}${at.recipe.selfApproved ? `, ${selfApprovalStatement}` : ''}`,
    ],
    ['Wetted area per piece', `${area(at.area.wettedMm2)} (${at.area.method})`],
    ['Wetted area of the lot', area(at.area.wettedMm2 * traveler.quantity)],
    ['Significant surfaces', at.significantSurfaces],
    ['Contact marks', at.contactMarks],
    [
      'Masking',
      [at.maskingNotes, at.area.maskedMm2 > 0 ? `${area(at.area.maskedMm2)} masked` : '']
        .filter(Boolean)
        .join('; '),
    ],
    ['Dimension allowance', at.dimensionAllowance],
    ['Handling', at.handling],
    [
      'Inspection',
      [at.inspectionLevel, at.certificate ? 'certificate required' : ''].filter(Boolean).join(', '),
    ],
    ['Ordered, received', `${at.counts.ordered}, ${at.counts.received ?? '–'}`],
    ['Due, priority', `${dayText(at.dueDate)}, ${at.priority}`],
    ['Issued', `${instantText(traveler.issuedAt, reader.timeZone)} by ${traveler.issuedBy}`],
  ]);
  for (const one of coloursOf(at)) swatches(doc, one.colour, one.name);
}

function steps(doc: Doc, traveler: PrintedTraveler, reader: Reader): void {
  heading(doc, 'Steps');
  table(doc, {
    columns: [
      { title: 'No', share: 0.5, align: 'right', face: 'figure' },
      { title: 'Step', share: 2.5 },
      { title: 'Tank, supply', share: 1.5 },
      { title: 'Settings and limits', share: 3.2 },
      { title: 'Actual', share: 2.4 },
      { title: 'In / out / rejected, by, when', share: 2.1 },
    ],
    size: 8.5,
    rows: traveler.steps.map((step) => [
      String(step.position),
      [step.title, step.instructions].filter(Boolean).join('\n'),
      [
        step.tank ? `${step.tank.code} ${step.tank.name}` : 'bench',
        step.contents ? contentsNames[step.contents] : '',
        step.supply?.code ?? '',
      ]
        .filter(Boolean)
        .join('\n'),
      [
        step.durationS > 0
          ? `time ${timeText(step.durationS)}${step.dripS > 0 ? `, drip ${timeText(step.dripS)}` : ''}`
          : '',
        ...step.settings
          .filter(({ quantity }) => quantity !== 'durationS')
          .map((setting) => settingText(setting, reader.units)),
        step.load ? `initial current ${figure('current', step.load.peakCurrentA, reader.units)}` : '',
      ]
        .filter(Boolean)
        .join('\n'),
      asRun(step, reader),
      signedText(step, reader),
    ]),
  });
}

const blank = '……………';
function asRun(step: PrintedTraveler['steps'][number], reader: Reader): string {
  return step.record
    .map((quantity) => {
      const { label, shownAs } = stepQuantities[quantity];
      const text = (value: number) =>
        shownAs === null ? String(value) : figure(shownAs, value, reader.units);
      const reading = step.signOff?.readings.find((one) => one.quantity === quantity);
      const corrected = step.signOff?.corrections.filter((one) => one.quantity === quantity).at(-1);
      const signed = reading === undefined ? blank : text(reading.value);
      return `${label} ${signed}${corrected ? `, corrected to ${text(corrected.newValue)}` : ''}`;
    })
    .join('\n');
}
function signedText({ signOff }: PrintedTraveler['steps'][number], reader: Reader): string {
  if (signOff === null) return '…… / …… / ……\n\n……………………';
  const { countIn, countOut, rejectCount, countCorrections, doneCorrections } = signOff;
  const right = countCorrections?.at(-1);
  const corrected = right ? `, corrected to ${countIn} / ${right.countOut} / ${right.rejectCount}` : '';
  const done = doneCorrections?.at(-1);
  const really =
    done === undefined
      ? ''
      : done.doneAt === null
        ? '\nsigned by mistake: not done'
        : `\ncorrected: done ${instantText(done.doneAt, reader.timeZone)}`;
  return `${countIn} / ${countOut} / ${rejectCount}${corrected}\n${signOff.person}\n${instantText(signOff.doneAt, reader.timeZone)}${really}`;
}

/** What hangs on the rack and what the supply should show, for each step that runs on current. */
function loadSheet(doc: Doc, traveler: PrintedTraveler, reader: Reader): void {
  const { rack, supply, area } = traveler.head;
  const electrolytic = traveler.steps.filter(({ load }) => load !== null);
  if (rack === null && electrolytic.length === 0) return;
  heading(doc, 'Load and rack sheet');
  facts(doc, [
    ['Rack', rack === null ? 'none' : `${rack.code} ${rack.name}, ${rack.baseMetal}`],
    ['Pieces on the rack', `${traveler.quantity}${rack?.hooks ? ` of ${rack.hooks} hooks` : ''}`],
    ['Electrical area per piece', figure('area', area.electricalMm2, reader.units)],
    ['Bare area of the rack', rack === null ? '' : figure('area', rack.bareAreaMm2, reader.units)],
    [
      'Power supply',
      supply === null
        ? ''
        : `${supply.code} ${supply.name}, ${supply.maxVoltageV} V, ${supply.maxCurrentA} A`,
    ],
    ['Load position of witness coupons', blank],
  ]);
  if (electrolytic.length === 0) return;
  table(doc, {
    columns: [
      { title: 'Step', share: 3 },
      { title: 'Area with the rack', share: 2, align: 'right', face: 'figure' },
      { title: 'Initial current', share: 2, align: 'right', face: 'figure' },
      { title: 'Settles to', share: 2, align: 'right', face: 'figure' },
      { title: 'Programme', share: 4 },
    ],
    size: 9,
    rows: electrolytic.map(({ position, title, load, electrical }) => [
      `${position} ${title}`,
      load ? figure('area', load.loadAreaMm2, reader.units) : '',
      load ? figure('current', load.peakCurrentA, reader.units) : '',
      load ? figure('current', load.steadyCurrentA, reader.units) : '',
      (electrical?.programme ?? [])
        .map(
          ({ kind, to, seconds }) =>
            `${kind} ${kind === 'ramp' ? 'to' : 'at'} ${electrical?.mode === 'voltage' ? figure('voltage', to, reader.units) : figure('currentDensity', to, reader.units)} ${timeText(seconds)}`,
        )
        .join(', '),
    ]),
  });
}

function closing(doc: Doc, traveler: PrintedTraveler, reader: Reader): void {
  heading(doc, 'Final check');
  for (const check of traveler.finalChecks ?? [null])
    facts(doc, [
      ['Accepted', check === null ? blank : String(check.acceptedCount)],
      [
        'Rejected, why',
        check === null ? blank : [check.rejectedCount, check.reason].filter(Boolean).join(', ') || '0',
      ],
      ['To rework', check === null ? blank : String(check.reworkCount)],
      ['Checked by', check?.checkedBy ?? blank],
      ['Date', check === null ? blank : instantText(check.checkedAt, reader.timeZone)],
      ['Pieces of the lot', String(traveler.quantity)],
    ]);
  write(
    doc,
    'Sign the current revision only. Scan the code at the top to check: a superseded traveler says so.',
    { size: 8.5, colour: inks.soft },
  );
}
