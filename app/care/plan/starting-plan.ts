import { BANDS } from '../check/questions.ts';
import { addDays, type LocalDay } from '../schedule/day.ts';
import type { ClinicView, WoundSize } from './clinic-view.ts';
import type { DraftPlan, DraftWound } from './draft.ts';
import { type Clinic, DONTS, PLAN_VERSION, type Plan, type Side, type Supply, type Wound } from './plan.ts';
import { proposeRecipes, type SupplyNeed, suppliesFor } from './propose-recipes.ts';

/** A wound as the clinician begins with it. */
export interface StartingWound {
  id: string;
  /** Undefined while nobody has chosen it. */
  site?: Wound['site'] | undefined;
  side?: Side | undefined;
  view: ClinicView;
  size?: WoundSize | undefined;
}

export interface StartingPoint {
  /** Id of the new plan; made by the caller, because the care core has no chance of its own. */
  id: string;
  person: Plan['person'];
  /** What the desk kept of the clinic; the rest stays empty and is asked for. */
  clinic?: Partial<Clinic> | undefined;
  /** IANA zone, where the clinic kept none. */
  zone: string;
  issued: LocalDay;
  wounds: readonly StartingWound[];
}

/** A plan is looked at again after a fortnight unless the clinician says otherwise (common practice; monthly at the least [EV-LCD-06]). */
export const REVIEW_DAYS_USUAL = 14;

/** What nobody should do to a wound of the foot [EV-PRA-06, EV-PRO-06, EV-PRO-07]. */
const USUAL_DONTS = DONTS.filter((d) => d !== 'noOintmentOnBlack');

function woundOf(own: StartingWound, issued: LocalDay, bands: DraftWound['bands']): DraftWound {
  const { id, site, side, view, size } = own;
  const found = view.dryGangrene ? 'none' : (view.drainage ?? 'none');
  return {
    id,
    ...(site ? { site } : {}),
    ...(side ? { side } : {}),
    keepDry: view.dryGangrene,
    ...(size ? { baseline: { day: issued, ...size } } : {}),
    // Only what was found is expected: more than that is told the same day, though there is a recipe for it.
    expectedDrainage: [found, found],
    known: [],
    bands,
  };
}

function planWith(start: StartingPoint, wounds: DraftWound[], supplies: Supply[]): DraftPlan {
  const anyDry = start.wounds.some((w) => w.view.dryGangrene);
  return {
    version: PLAN_VERSION,
    id: start.id,
    revision: 1,
    issued: start.issued,
    clinic: { name: '', phone: '', hours: [], zone: start.zone, ...start.clinic },
    person: start.person,
    wounds,
    supplies,
    donts: [...USUAL_DONTS, ...(anyDry ? (['noOintmentOnBlack'] as const) : [])],
    ownDonts: [],
    asks: [],
    escalation: {},
    reviewBy: addDays(start.issued, REVIEW_DAYS_USUAL),
  };
}

/** A plan that says nothing yet: "call us" for every amount of drainage. Names and phones left empty must be filled in before it can be read. */
export function blankPlan(start: StartingPoint): DraftPlan {
  const wounds = start.wounds.map((own) =>
    woundOf(own, start.issued, {
      none: { callUs: true },
      light: { callUs: true },
      moderate: { callUs: true },
      heavy: { callUs: true },
    }),
  );
  return planWith(start, wounds, []);
}

/**
 * A plan with the proposed recipes and supplies.
 * @param nameOf names a supply in the person's language.
 */
export function startingPlan(start: StartingPoint, nameOf: (need: SupplyNeed) => string): DraftPlan {
  const wounds = start.wounds.map((own) => woundOf(own, start.issued, proposeRecipes(own.view, own.size)));
  const bands = wounds.flatMap((w) => BANDS.flatMap((b) => w.bands[b] ?? []));
  const supplies = suppliesFor(bands).map((need) => ({
    id: need.id,
    name: nameOf(need),
    ...(need.family ? { family: need.family } : {}),
  }));
  return planWith(start, wounds, supplies);
}
