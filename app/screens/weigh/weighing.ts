import type { RecordOf } from '../../care/log/records.ts';
import type { Worn } from '../../care/log/worn.ts';
import type { WeighDraft } from '../../store/drafts.ts';
import type { Stamp } from '../../store/notebook.ts';
import { formatNumber, parseNumber } from '../../words/format.ts';

/** The pages of a weighing, in order. */
export const PAGES = ['start', 'dry', 'used', 'step', 'hours', 'look'] as const;
export type WeighPage = (typeof PAGES)[number];

/** What is typed and chosen, as text. */
export const FIELDS = ['dry', 'used', 'step', 'otherStep', 'worn', 'hours'] as const;
export type WeighField = (typeof FIELDS)[number];
export type Typed = Record<WeighField, string>;

/** No dressing weighs more; a larger number is a slip or the wrong unit (our own limit). */
export const MOST_G = 999;
/** The longest time a weighing can be about; the record holds no more. */
export const MOST_HOURS = 24 * 31;
const MOST_STEP_G = 100;
/** The steps that kitchen scales have; any other can be typed. */
export const STEPS_G = ['1', '0.1'] as const;
export const OTHER = 'other';

export const typedIn = (draft: WeighDraft | undefined): Typed =>
  Object.fromEntries(FIELDS.map((f) => [f, typeof draft?.answers[f] === 'string' ? draft.answers[f] : ''])) as Typed;

const readUpTo = (text: string, most: number): number | undefined => {
  const value = parseNumber(text);
  return value !== undefined && value > 0 && value <= most ? value : undefined;
};

/** A typed weight in g, or undefined when it is none. */
export const readGrams = (text: string): number | undefined => readUpTo(text, MOST_G);
export const readHours = (text: string): number | undefined => readUpTo(text, MOST_HOURS);
/** The smallest step of the scale in g, chosen or typed. */
export const readStep = ({ step, otherStep }: Typed): number | undefined =>
  step === OTHER ? readUpTo(otherStep, MOST_STEP_G) : step === '' ? undefined : Number(step);

/** The first of two weights that a scale of this step cannot have shown. */
export function offStep(typed: Typed, stepG: number): number | undefined {
  const shown = [readGrams(typed.dry), readGrams(typed.used)].filter((g) => g !== undefined);
  return shown.find((g) => Math.abs(g / stepG - Math.round(g / stepG)) > 1e-6);
}

/** The record of a weighing, or undefined while something is lacking. */
export function weighingOf(typed: Typed, wound: string, stamp: Stamp): RecordOf<'weighing'> | undefined {
  const [dryG, usedG, stepG, hours] = [readGrams(typed.dry), readGrams(typed.used), readStep(typed), readHours(typed.hours)];
  if (dryG === undefined || usedG === undefined || stepG === undefined || hours === undefined) return undefined;
  const change = typed.worn !== '' && typed.worn !== OTHER ? { change: typed.worn } : {};
  return { ...stamp, kind: 'weighing', wound, dryG, usedG, stepG, hours, ...change };
}

/** What choosing a dressing fills in. The hours can be corrected. */
export const chosenWorn = (worn: Worn): Partial<Typed> => ({ worn: worn.change, hours: formatNumber(worn.hours, 0) });
