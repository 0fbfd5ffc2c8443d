import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { kb, median, ms, type Row, times } from './figures.ts';
import { type Audited, audit } from './lighthouse.ts';
import { demoPage, serve, takePhone } from './phone.ts';

const RUNS = 5;

/** As little as a page can be and still be painted: its one line of text is its largest paint. */
const BLANK = `<!doctype html>
<html lang="en">
  <head>
    <meta charset="utf-8" />
    <meta name="viewport" content="width=device-width, initial-scale=1" />
    <title>Blank</title>
  </head>
  <body><p>A blank page.</p></body>
</html>
`;

/** First and repeat load of the patient's app under Lighthouse's mobile settings, against a blank page from the same server. */
export async function load(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'tendbook-blank-'));
  writeFileSync(join(folder, 'index.html'), BLANK);
  const [app, blank] = [await serve(), await serve(`${folder}/`)];
  const phone = await takePhone(app.address);
  const look = (installed: boolean) => (own: boolean) =>
    audit(phone, own ? app.address : blank.address, { categories: ['performance'], installed });
  try {
    const first = await taking(look(false));
    // From now on the phone has the app, and a book in it.
    await (await demoPage(phone)).goto('about:blank');
    const repeat = await taking(look(true));
    return [...rowsOf('first load', first), ...rowsOf('repeat load, with a book', repeat)];
  } finally {
    await phone.close();
    app.close();
    blank.close();
    rmSync(folder, { recursive: true });
  }
}

interface Taken {
  ours: Audited[];
  blank: Audited[];
}

/** Both pages in turn. */
async function taking(look: (own: boolean) => Promise<Audited>): Promise<Taken> {
  const taken: Taken = { ours: [], blank: [] };
  for (let i = 0; i < RUNS; i += 1) {
    taken.ours.push(await look(true));
    taken.blank.push(await look(false));
  }
  return taken;
}

function rowsOf(what: string, { ours, blank }: Taken): Row[] {
  const of = (list: readonly Audited[], pick: (a: Audited) => number): number => median(list.map(pick));
  const paint = of(ours, (a) => a.largestPaintMs);
  const blankPaint = of(blank, (a) => a.largestPaintMs);
  return [
    {
      what: `${what}: largest paint`,
      ours: ms(paint),
      against: `${ms(blankPaint)} of a blank page`,
      ratio: times(paint / blankPaint),
      goal: 'at most 1.3 ×',
    },
    {
      what: `${what}: total blocking time`,
      ours: ms(of(ours, (a) => a.blockingMs)),
      against: `${ms(of(blank, (a) => a.blockingMs))} of a blank page`,
      goal: '0 ms',
    },
    { what: `${what}: layout shift`, ours: of(ours, (a) => a.shift).toFixed(3), goal: '0' },
    { what: `${what}: transferred, gzip`, ours: kb(of(ours, (a) => a.bytes)), against: `${kb(of(blank, (a) => a.bytes))} of a blank page` },
    { what: `${what}: Lighthouse performance`, ours: String(of(ours, (a) => a.scores.performance ?? Number.NaN)), goal: '100' },
  ];
}
