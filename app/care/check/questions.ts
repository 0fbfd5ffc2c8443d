/**
 * The questions of the daily check, in the order they are asked, with their
 * answer codes mildest first. Every schema, screen and locale check reads this
 * list, so a code exists in one place only.
 *
 * `when`: at every check, only when the wound is open, or only if the plan asks.
 * `scope`: asked once for the person, once for each foot with a wound, or once
 * for each wound.
 */
export const QUESTIONS = [
  {
    id: 'unwell',
    kind: 'manyOf',
    when: 'every',
    scope: 'person',
    codes: ['none', 'vomiting', 'shakingChills', 'confusedOrDrowsy', 'fastBreathing', 'faint', 'mottledSkin', 'noUrine', 'worstEver'],
  },
  { id: 'temperature', kind: 'temperature', when: 'every', scope: 'person', codes: ['no', 'yes'] },
  {
    id: 'footColour',
    kind: 'oneOf',
    when: 'every',
    scope: 'foot',
    codes: ['usual', 'darkerPatch', 'newBlack', 'paleOrBlue', 'paleOrBlueAndCold'],
  },
  { id: 'pain', kind: 'oneOf', when: 'every', scope: 'foot', codes: ['usual', 'more', 'severe'] },
  { id: 'warmth', kind: 'warmth', when: 'every', scope: 'foot', codes: ['same', 'warmer', 'hotAndSwollen'] },
  { id: 'swelling', kind: 'oneOf', when: 'every', scope: 'foot', codes: ['usual', 'new'] },
  {
    id: 'dressing',
    kind: 'oneOf',
    when: 'every',
    scope: 'wound',
    codes: ['dryInPlace', 'loose', 'wetFromOutside', 'markedThrough', 'leaking'],
  },
  {
    id: 'bleeding',
    kind: 'oneOf',
    when: 'every',
    scope: 'wound',
    codes: ['none', 'spots', 'soakedThenStopped', 'willNotStop'],
  },
  { id: 'drainageAmount', kind: 'oneOf', when: 'open', scope: 'wound', codes: ['none', 'light', 'moderate', 'heavy'] },
  {
    id: 'drainageColour',
    kind: 'oneOf',
    when: 'open',
    scope: 'wound',
    codes: ['clear', 'pink', 'brownOrGrey', 'red', 'cloudyThick', 'green'],
  },
  { id: 'odour', kind: 'oneOf', when: 'open', scope: 'wound', codes: ['none', 'usual', 'newOrStronger'] },
  {
    id: 'redness',
    kind: 'oneOf',
    when: 'open',
    scope: 'wound',
    codes: ['none', 'rim', 'wide', 'spreading', 'streaks', 'fast'],
  },
  { id: 'woundBed', kind: 'manyOf', when: 'open', scope: 'wound', codes: ['red', 'yellow', 'newBlack', 'deeper', 'boneOrTendon'] },
  { id: 'edge', kind: 'oneOf', when: 'open', scope: 'wound', codes: ['usual', 'whiteSoggy', 'newBlisterOrSore'] },
  { id: 'offloading', kind: 'oneOf', when: 'plan', scope: 'person', codes: ['always', 'mostly', 'hardly', 'brokenOrHurts'] },
  { id: 'glucose', kind: 'glucose', when: 'plan', scope: 'person', codes: [] },
  { id: 'note', kind: 'words', when: 'every', scope: 'person', codes: [] },
] as const;

export type QuestionId = (typeof QUESTIONS)[number]['id'];
export type QuestionKind = (typeof QUESTIONS)[number]['kind'];
export type QuestionScope = (typeof QUESTIONS)[number]['scope'];
export interface Question {
  readonly id: QuestionId;
  readonly kind: QuestionKind;
  readonly when: 'every' | 'open' | 'plan';
  readonly scope: QuestionScope;
  readonly codes: readonly string[];
}

export const QUESTION_IDS = QUESTIONS.map((q) => q.id) as QuestionId[];
const byId = new Map<string, Question>(QUESTIONS.map((q) => [q.id, q]));

/** The question with this id. @throws RangeError for an unknown id. */
export function question(id: string): Question {
  const found = byId.get(id);
  if (!found) throw new RangeError(`no such question: ${id}`);
  return found;
}

type CodesOf<Id extends QuestionId> = Extract<(typeof QUESTIONS)[number], { id: Id }>['codes'][number];
/** An answer code of a question, or `unsure`. */
export type Code<Id extends QuestionId> = CodesOf<Id> | 'unsure';
export type Band = CodesOf<'drainageAmount'>;

/** The drainage bands, driest first [EV-EXU-01, Bates-Jensen tool]. */
export const BANDS = question('drainageAmount').codes as readonly Band[];
/** 0 for the driest band, 3 for the wettest. */
export const bandRank = (band: Band): number => BANDS.indexOf(band);

/** The grave codes of `unwell` [EV-INF-15, UK Sepsis Trust's list for adults]. */
export const GRAVE_UNWELL = question('unwell').codes.slice(2);

/** A finding is written `question:code`, for instance `odour:newOrStronger`. */
export function isFinding(text: string): boolean {
  const [id, code, ...rest] = text.split(':');
  if (rest.length > 0 || !id || !code) return false;
  const q = byId.get(id);
  return q?.codes.includes(code) ?? false;
}
