import { type Band, bandRank } from '../care/check/questions.ts';
import { type ClinicView, EMPTY_VIEW, type WoundSize } from '../care/plan/clinic-view.ts';
import type { DraftBand, DraftPlan, DraftWound } from '../care/plan/draft.ts';
import { proposeRecipes } from '../care/plan/propose-recipes.ts';
import type { LocalDay } from '../care/schedule/day.ts';
import { type NameSupply, withoutUnused, withSupplies } from './supplies.ts';

/** Everything on the desk. It is replaced whole at each edit and lives in this tab only. */
export interface DeskState {
  draft: DraftPlan;
  /** What the clinician saw, by wound id. It never leaves the desk. */
  seen: Readonly<Record<string, ClinicView>>;
  /** Wounds whose recipes follow what is seen, until one of them is edited by hand. */
  follows: readonly string[];
  /** What is at the person's home, by supply id; a missing one is not known. */
  onHand: Readonly<Record<string, number>>;
  /** The plan as it was last handed over from here: shown as a code, copied, saved or printed. */
  handed?: DraftPlan | undefined;
}

export type Edit = (state: DeskState) => DeskState;

const sameBut = (revision: number, a: DraftPlan, b: DraftPlan): boolean =>
  JSON.stringify({ ...a, revision }) === JSON.stringify({ ...b, revision });

/**
 * Counts the version up when the plan is no longer what was handed over, for a
 * phone refuses other content under a number that it has; and back when the
 * change is taken back.
 */
export const countVersion: Edit = (state) => {
  const { draft, handed } = state;
  if (!handed) return state;
  const revision = handed.revision + (sameBut(handed.revision, draft, handed) ? 0 : 1);
  return revision === draft.revision ? state : { ...state, draft: { ...draft, revision } };
};

/** Remembers that this very plan was handed over. */
export const handOver =
  (draft: DraftPlan): Edit =>
  (state) =>
    state.handed === draft ? state : { ...state, handed: draft };

export const STANDINGS = ['notYet', 'handed', 'changed'] as const;
/** Whether the plan as it stands was handed over. */
export const standingOf = ({ draft, handed }: DeskState): (typeof STANDINGS)[number] =>
  !handed ? 'notYet' : draft.revision === handed.revision ? 'handed' : 'changed';

export const woundOf = (state: DeskState, id: string): DraftWound | undefined => state.draft.wounds.find((w) => w.id === id);
export const viewOf = (state: DeskState, id: string): ClinicView =>
  (Object.hasOwn(state.seen, id) ? state.seen[id] : undefined) ?? EMPTY_VIEW;

/** Sets parts of the plan itself. A part set to undefined is absent. */
export const setPlan =
  (part: Partial<DraftPlan>): Edit =>
  (state) => ({ ...state, draft: { ...state.draft, ...part } });

export const setClinic =
  (part: Partial<DraftPlan['clinic']>): Edit =>
  (state) =>
    setPlan({ clinic: { ...state.draft.clinic, ...part } })(state);

export const setPerson =
  (part: Partial<DraftPlan['person']>): Edit =>
  (state) =>
    setPlan({ person: { ...state.draft.person, ...part } })(state);

export const setWound =
  (id: string, part: Partial<DraftWound>): Edit =>
  (state) =>
    setPlan({ wounds: state.draft.wounds.map((w) => (w.id === id ? { ...w, ...part } : w)) })(state);

/** What was seen of one wound. Dry gangrene makes it a wound that must stay dry; the amount found is what is expected. */
export const setView =
  (id: string, part: Partial<ClinicView>, nameOf: NameSupply): Edit =>
  (state) => {
    const view = { ...viewOf(state, id), ...part };
    let next: DeskState = { ...state, seen: { ...state.seen, [id]: view } };
    if (part.dryGangrene !== undefined) next = setDry(id, part.dryGangrene)(next);
    if (part.drainage !== undefined || part.dryGangrene !== undefined) {
      const found: Band = view.dryGangrene ? 'none' : (view.drainage ?? 'none');
      const [low, high] = woundOf(state, id)?.expectedDrainage ?? [found, found];
      // A range that somebody chose stays, as long as what was found lies in it.
      const chosen = !state.follows.includes(id) && bandRank(found) >= bandRank(low) && bandRank(found) <= bandRank(high);
      if (!chosen) next = setWound(id, { expectedDrainage: [found, found] })(next);
    }
    return follow(id, nameOf)(next);
  };

const setDry =
  (id: string, dry: boolean): Edit =>
  (state) => {
    const next = setWound(id, { keepDry: dry })(state);
    const any = next.draft.wounds.some((w) => w.keepDry);
    const donts = next.draft.donts.filter((d) => d !== 'noOintmentOnBlack');
    return setPlan({ donts: any ? [...donts, 'noOintmentOnBlack'] : donts })(next);
  };

/** The measured size; undefined takes it away. Half a size stays in its fields until the other half is there. */
export const setSize =
  (id: string, size: WoundSize | undefined, today: LocalDay, nameOf: NameSupply): Edit =>
  (state) =>
    follow(id, nameOf)(setWound(id, { baseline: size && { day: today, ...size } })(state));

export const sizeOf = (wound: DraftWound | undefined): WoundSize | undefined => wound?.baseline;

const follow =
  (id: string, nameOf: NameSupply): Edit =>
  (state) =>
    state.follows.includes(id) ? useProposals(id, nameOf)(state) : state;

/** Puts the proposed recipes for all amounts into a wound. From then on they follow what is seen, until one is edited. */
export const useProposals =
  (id: string, nameOf: NameSupply): Edit =>
  (state) => {
    const wound = woundOf(state, id);
    if (!wound) return state;
    const bands = proposeRecipes(viewOf(state, id), sizeOf(wound));
    const next = withDeviceSteps(setWound(id, { bands })(state));
    const draft = withoutUnused(withSupplies(next.draft, Object.values(bands), nameOf), state.draft);
    return { ...next, draft, follows: [...new Set([...state.follows, id])] };
  };

/** Changes what is done for one amount, by hand. */
export const setBand =
  (id: string, band: Band, change: (old: DraftBand | undefined) => DraftBand, nameOf: NameSupply): Edit =>
  (state) => {
    const wound = woundOf(state, id);
    if (!wound) return state;
    const own = change(wound.bands[band]);
    const next = setWound(id, { bands: { ...wound.bands, [band]: own } })(state);
    const draft = withoutUnused(withSupplies(next.draft, [own], nameOf), state.draft);
    return { ...next, draft, follows: state.follows.filter((f) => f !== id) };
  };

/** Where a plan has a shoe or boot, each recipe puts it back on; where it has none, no recipe does. */
export function withDeviceSteps(state: DeskState): DeskState {
  const has = state.draft.device !== undefined;
  const wounds = state.draft.wounds.map((wound) => ({
    ...wound,
    bands: Object.fromEntries(
      Object.entries(wound.bands).map(([band, own]) => {
        if (!('recipe' in own)) return [band, own];
        const { steps } = own.recipe;
        const at = steps.findIndex((s) => s.step === 'throwAway');
        const there = steps.some((s) => s.step === 'device');
        if (there === has) return [band, own];
        const next = has
          ? [...steps.slice(0, at < 0 ? steps.length : at), { step: 'device' as const }, ...(at < 0 ? [] : steps.slice(at))]
          : steps.filter((s) => s.step !== 'device');
        return [band, { recipe: { ...own.recipe, steps: next } }];
      }),
    ),
  }));
  return { ...state, draft: { ...state.draft, wounds } };
}

const CALL_US: DraftWound['bands'] = {
  none: { callUs: true },
  light: { callUs: true },
  moderate: { callUs: true },
  heavy: { callUs: true },
};
const WOUNDS_MOST = 4;
export const mayAddWound = (state: DeskState): boolean => state.draft.wounds.length < WOUNDS_MOST;

/** Another wound of the same person, with nothing but calls until something is seen. */
export const addWound: Edit = (state) => {
  const taken = new Set(state.draft.wounds.map((w) => w.id));
  const id = ['w1', 'w2', 'w3', 'w4', 'w5'].find((n) => !taken.has(n));
  if (id === undefined || !mayAddWound(state)) return state;
  const wound: DraftWound = {
    id,
    keepDry: false,
    expectedDrainage: ['none', 'none'],
    known: [],
    bands: CALL_US,
  };
  return { ...setPlan({ wounds: [...state.draft.wounds, wound] })(state), follows: [...state.follows, id] };
};

export const removeWound =
  (id: string): Edit =>
  (state) => {
    const next = setPlan({ wounds: state.draft.wounds.filter((w) => w.id !== id) })(state);
    const { [id]: _gone, ...seen } = state.seen;
    return { ...next, draft: withoutUnused(next.draft, state.draft), seen, follows: state.follows.filter((f) => f !== id) };
  };
