import * as z from 'zod/mini';
import { STEP_STATES } from '../care/log/records.ts';
import type { SetAside } from './book.ts';
import type { Shelf } from './shelf.ts';
import { changeIn, deleteIn } from './values.ts';

/** A check under way. Its id becomes the record's id, so that finishing twice makes one record. */
const checkDraft = z.object({
  id: z.string(),
  startedAt: z.string(),
  /** Key of the question on screen. */
  at: z.catch(z.optional(z.string()), undefined),
  answers: z.record(z.string(), z.unknown()),
  /** Grave levels the person was already told in this check. */
  told: z.catch(z.optional(z.string()), undefined),
  /** The alert that a grave answer raised before the end. */
  alert: z.catch(z.optional(z.string()), undefined),
});
export type CheckDraft = z.infer<typeof checkDraft>;

/** A dressing change under way. */
const changeDraft = z.object({
  id: z.string(),
  startedAt: z.string(),
  /** When it was last gone on with; drafts of older versions lack it. */
  savedAt: z.catch(z.optional(z.string()), undefined),
  wound: z.string(),
  check: z.catch(z.optional(z.string()), undefined),
  /** Position in the sequence of steps; within `look`, position among its questions. */
  position: z.int(),
  look: z.catch(z.int(), 0),
  answers: z.record(z.string(), z.unknown()),
  /** Set once the look is over, or when the wound had to be covered early. */
  path: z.catch(z.optional(z.enum(['recipe', 'keepDry', 'coverAndCall'])), undefined),
  /** The question whose answer broke off the look. */
  asked: z.catch(z.optional(z.int()), undefined),
  interrupted: z.catch(z.optional(z.boolean()), undefined),
  alert: z.catch(z.optional(z.string()), undefined),
  gathered: z.catch(z.array(z.string()), []),
  states: z.catch(z.record(z.string(), z.object({ state: z.enum(STEP_STATES), note: z.optional(z.string()) })), {}),
});
export type ChangeDraft = z.infer<typeof changeDraft>;

/** A dressing being weighed: dry now, used perhaps days later. The answers are what was typed and chosen. */
const weighDraft = z.object({
  id: z.string(),
  startedAt: z.string(),
  wound: z.string(),
  /** The page on screen. */
  at: z.catch(z.optional(z.string()), undefined),
  answers: z.record(z.string(), z.unknown()),
});
export type WeighDraft = z.infer<typeof weighDraft>;

export const DRAFT_KINDS = ['check', 'change', 'weigh'] as const;
export type DraftKind = (typeof DRAFT_KINDS)[number];

export const draftKey = (book: string, kind: DraftKind): string => `draft:${book}:${kind}`;
/** Words being typed in a field of a book. */
export const textKey = (book: string, where: string): string => `draft:${book}:text-${where}`;
/** A plan that arrived and waits for confirmation, as the text it came in. */
export const INCOMING_KEY = 'incoming';

export function readCheckDraft(value: unknown): CheckDraft | undefined {
  const parsed = checkDraft.safeParse(value);
  return parsed.success ? parsed.data : undefined;
}

export function readChangeDraft(value: unknown): ChangeDraft | undefined {
  const parsed = changeDraft.safeParse(value);
  return parsed.success ? parsed.data : undefined;
}

export function readWeighDraft(value: unknown): WeighDraft | undefined {
  const parsed = weighDraft.safeParse(value);
  return parsed.success ? parsed.data : undefined;
}

/** The drafts of a book, and what of them could not be read. */
export function readDrafts(all: ReadonlyMap<string, unknown>, book: string) {
  const stored = (kind: DraftKind): SetAside => ({ where: draftKey(book, kind), value: all.get(draftKey(book, kind)) });
  const [check, change, weigh] = [stored('check'), stored('change'), stored('weigh')];
  const checkDraft = readCheckDraft(check.value);
  const changeDraft = readChangeDraft(change.value);
  const weighDraft = readWeighDraft(weigh.value);
  const unread = [checkDraft ? undefined : check, changeDraft ? undefined : change, weighDraft ? undefined : weigh];
  return { checkDraft, changeDraft, weighDraft, setAside: unread.filter((d) => d?.value !== undefined) as SetAside[] };
}

/**
 * Saves what changed in a draft. Answers are laid over those already stored,
 * so that two tabs on one draft keep both people's answers.
 */
export async function saveDraft<D extends CheckDraft | ChangeDraft | WeighDraft>(shelf: Shelf, key: string, draft: D): Promise<void> {
  await changeIn(shelf, 'book', key, (old) => {
    const before = old as { id?: string; answers?: object } | undefined;
    return before?.id === draft.id ? { ...before, ...draft, answers: { ...before.answers, ...draft.answers } } : draft;
  });
}

export const dropDraft = (shelf: Shelf, key: string): Promise<void> => deleteIn(shelf, 'book', [key]);
