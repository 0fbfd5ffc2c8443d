import { BANDS } from '../care/check/questions.ts';
import { FAMILY_IDS, type FamilyId } from '../care/dressings/families.ts';
import { type DraftBand, type DraftPlan, type DraftRecipe, draftRecipe } from '../care/plan/draft.ts';
import type { Dressing, Supply } from '../care/plan/plan.ts';
import { BASIC_SUPPLIES, type BasicSupply, type SupplyNeed, suppliesFor } from '../care/plan/propose-recipes.ts';

/** Names a supply in the person's language. */
export type NameSupply = (need: SupplyNeed) => string;

/** What a dressing is as a supply. */
export function needOf(dressing: Dressing): SupplyNeed {
  const alone: DraftRecipe = {
    primary: dressing,
    fixation: 'none',
    change: { kind: 'hours', hours: 24 },
    cleanser: 'none',
    skinProtection: 'none',
    steps: [],
    uses: [],
  };
  return suppliesFor([{ recipe: alone }])[0] as SupplyNeed;
}

const isBasic = (id: string): id is BasicSupply => (BASIC_SUPPLIES as readonly string[]).includes(id);

/** The need behind a supply of the desk's own making, told by its id; undefined for one that was typed or came with an earlier plan. */
export function needBehind(id: string): SupplyNeed | undefined {
  if (isBasic(id)) return { id, kind: id };
  const [, family, width, height] = /^([A-Za-z]+?)(?:-([\d.]+)x([\d.]+))?$/.exec(id) ?? [];
  if (!(FAMILY_IDS as readonly (string | undefined)[]).includes(family)) return undefined;
  const size = width === undefined ? {} : { widthMm: Number(width), heightMm: Number(height) };
  return { id, kind: 'dressing', family: family as FamilyId, ...size };
}

const toSupply = (need: SupplyNeed, nameOf: NameSupply): Supply => ({
  id: need.id,
  name: nameOf(need),
  ...(need.family ? { family: need.family } : {}),
});

/** A draft with every item that these bands use among its supplies. */
export function withSupplies(draft: DraftPlan, bands: readonly DraftBand[], nameOf: NameSupply): DraftPlan {
  const there = new Set(draft.supplies.map((s) => s.id));
  const used = bands.flatMap((b) => ('recipe' in b ? b.recipe.uses.map((u) => u.item) : []));
  const missing = [...new Set(used)].filter((id) => !there.has(id)).flatMap((id) => needBehind(id) ?? []);
  return missing.length === 0 ? draft : { ...draft, supplies: [...draft.supplies, ...missing.map((need) => toSupply(need, nameOf))] };
}

const usedIn = (draft: DraftPlan): Set<string> =>
  new Set(draft.wounds.flatMap((w) => BANDS.flatMap((b) => draftRecipe(w, b)?.uses.map((u) => u.item) ?? [])));

/** A draft without the supplies that an edit left unused. What was never used stays: somebody typed it. */
export function withoutUnused(draft: DraftPlan, before: DraftPlan): DraftPlan {
  const was = usedIn(before);
  const is = usedIn(draft);
  return { ...draft, supplies: draft.supplies.filter((s) => is.has(s.id) || !was.has(s.id)) };
}

/** A draft whose own supply names are in another language; names somebody typed stay. */
export function renamed(draft: DraftPlan, from: NameSupply, to: NameSupply): DraftPlan {
  const supplies = draft.supplies.map((s) => {
    const need = needBehind(s.id);
    return need && s.name === from(need) ? { ...s, name: to(need) } : s;
  });
  return { ...draft, supplies };
}
