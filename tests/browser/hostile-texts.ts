import { type LogRecord, readRecords } from '../../app/care/log/records.ts';
import { type Plan, readPlan } from '../../app/care/plan/plan.ts';
import { change, check, mustBeRecords, note, stamp } from '../care/log/make.ts';
import { allPaths, at, type Json, mustRead, put } from '../care/plan/plans.ts';
import { fullLog, secondPlan } from '../exchange/full-log.ts';

/** Every text that was planted holds these letters; nothing of ours does. */
export const MARK = 'zqx';

const MARKUP = [
  `<img src=//${MARK}.example/1 onerror=alert(1)>`,
  `<script>alert("${MARK}")</script>`,
  `"><svg onload=alert(1) id=${MARK}>`,
  `javascript:alert("${MARK}")`,
  `<iframe src=//${MARK}.example>`,
  `<a href="tel:1900">${MARK}</a>`,
  `</style><b id=${MARK}>&lt;i&gt;&amp;`,
];
const FORMULAS = [`=HYPERLINK("//${MARK}.example")`, `+1${MARK}`, `-1+${MARK}`, `@SUM(${MARK})`];
const INTERPOLATION = [`{{name}} ${MARK} $t(common:app)`, `${MARK} {{- phone}} $t(alert:help.title)`];
/** They turn round what follows, or mean to. */
const TURNING = [`\u202e${MARK} 5550142`, `${MARK}\u2067\u202d abc`];
/** The same as they stand among other words, numbered. */
export const TURNING_PATTERN = `\u202e${MARK}\\d+ 5550142|${MARK}\\d+\u2067\u202d abc`;
const LONG = ['W', 'م', '💥'].map((letter) => (most: number) => MARK + letter.repeat(Math.floor((most - MARK.length) / letter.length)));

/** Made for a place that holds so many letters. */
type Made = (most: number) => string;
const short =
  (text: string): Made =>
  () =>
    text;
const TEXTS: readonly Made[] = [...MARKUP, ...FORMULAS, ...INTERPOLATION, ...TURNING].map(short).flatMap((text, i) => {
  const long = LONG[i % LONG.length] as Made;
  return i % 4 === 3 ? [text, long] : [text];
});
/** How many letters free texts of ours can hold. */
const LENGTHS = [2000, 400, 240, 200, 160, 80, 60, 40, 20];

/** Puts a hostile text into every place that admits one. @param passes whether the whole is still accepted. @param count a number at each call. @returns what was planted. */
function plant(content: Json, passes: (content: Json) => boolean, shift: number, count: () => number): Map<string, string> {
  const planted = new Map<string, string>();
  for (const path of allPaths(content).filter((p) => typeof at(content, p) === 'string')) {
    const real = at(content, path);
    // An id, a code or a number takes no such letter.
    const isFree = passes(put(content, path, '<b'));
    const tries = TEXTS.map((_, i) => TEXTS[(planted.size + shift + i) % TEXTS.length] as Made);
    // Each one is told from all others by a number.
    const own = `${MARK}${count()}`;
    const made = tries.flatMap((make) => LENGTHS.map((most) => make(most - 4).replaceAll(MARK, own)));
    const found = isFree ? made.find((text) => passes(put(content, path, text))) : undefined;
    put(content, path, found ?? real);
    if (found !== undefined) planted.set(path.join('.'), found);
  }
  return planted;
}

const passesAsPlan = (content: Json): boolean => readPlan(content).ok;

/** Every optional text of a plan filled in. */
function wordyPlan(): Json {
  const plan = secondPlan();
  const wound = plan.wounds[0] as Plan['wounds'][number];
  const wordy: Plan = {
    ...plan,
    greeting: 'Hello',
    device: { kind: 'walkerBoot', note: 'Day and night' },
    wounds: [{ ...wound, label: 'big toe' }, ...plan.wounds.slice(1)].map((w) => ({
      ...w,
      bands: Object.fromEntries(
        Object.entries(w.bands).map(([band, own]) => [
          band,
          'recipe' in own
            ? {
                recipe: {
                  ...own.recipe,
                  ...(own.recipe.primary ? { primary: { ...own.recipe.primary, name: 'First', note: 'Cut it' } } : {}),
                  ...(own.recipe.secondary ? { secondary: { ...own.recipe.secondary, name: 'Second', note: 'Press it' } } : {}),
                  steps: own.recipe.steps.map((s) => ({ ...s, note: 'Take care' })),
                },
              }
            : own,
        ]),
      ) as typeof w.bands,
    })),
  };
  return JSON.parse(JSON.stringify(mustRead(wordy))) as Json;
}

const BY_SOMEONE = { by: { who: 'caregiver' as const, name: 'Ana' } };

/** A log of every kind of record, with every optional text filled in, until this morning. */
function wordyLog(plan: Plan): LogRecord[] {
  const own = { plan: { id: plan.id, revision: plan.revision }, zone: 'America/Chicago' };
  return [
    ...fullLog(),
    ...mustBeRecords<LogRecord>([
      check('h1', '2031-03-13T15:00', { ...own, ...BY_SOMEONE, person: { unwell: ['none'], note: 'words' } }),
      change('h2', '2031-03-13T15:20', {
        ...own,
        ...BY_SOMEONE,
        steps: [{ step: 'remove', state: 'different', note: 'words' }],
        note: 'words',
      }),
      note('h3', '2031-03-13T15:30', 'words', { ...own, ...BY_SOMEONE }),
      note('h4', '2031-03-13T15:31', 'words', { ...own, ...BY_SOMEONE, forVisit: true }),
      { ...stamp('h5', '2031-03-13T15:32'), ...own, ...BY_SOMEONE, kind: 'ownItem', item: 'own-1', name: 'words' },
      { ...stamp('h6', '2031-03-13T15:33'), ...own, kind: 'stock', item: 'own-1', movement: 'received', amount: 4, note: 'words' },
      { ...stamp('h7', '2031-03-13T15:34'), ...own, kind: 'visit', note: 'words' },
    ]),
  ];
}

export interface Hostile {
  plan: Plan;
  records: LogRecord[];
  /** What was planted, by where. */
  inPlan: ReadonlyMap<string, string>;
  inLog: ReadonlyMap<string, string>;
}

/** A plan and a log that pass their schemas and whose every free text means harm. @param shift which text stands where. */
export function hostile(shift: number): Hostile {
  const plan = wordyPlan();
  let counted = 100;
  const count = (): number => ++counted;
  const inPlan = plant(plan, passesAsPlan, shift, count);
  const read = mustRead(plan);
  const inLog = new Map<string, string>();
  const records = wordyLog(read).map((record, i) => {
    const content = JSON.parse(JSON.stringify(record)) as Json;
    const planted = plant(content, (c) => readRecords([c]).records.length === 1, shift + i, count);
    for (const [path, text] of planted) inLog.set(`${record.id}.${path}`, text);
    return content as unknown as LogRecord;
  });
  return { plan: read, records, inPlan, inLog };
}

/** What of a record is a code of the app's own, although its schema takes any text: it need not be shown. */
export const isOwnWriting = (path: string): boolean => /\.(findings|params)\./.test(path);
