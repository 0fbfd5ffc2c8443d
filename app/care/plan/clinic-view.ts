import { type Band, question } from '../check/questions.ts';

/** What the clinician sees in the wound bed. `blackDry` is dry black tissue, `blackSoft` is not dry. */
export const WOUND_BEDS = ['pink', 'red', 'yellow', 'blackDry', 'blackSoft', 'boneOrTendon'] as const;
export type WoundBed = (typeof WOUND_BEDS)[number];

/** Kinds of drainage, as the patient's own question has them [EV-EXU-09]. */
export const DRAINAGE_KINDS = question('drainageColour').codes as readonly DrainageKind[];
export type DrainageKind = 'clear' | 'pink' | 'brownOrGrey' | 'red' | 'cloudyThick' | 'green';

/** The five local signs [EV-INF-01, IDSA 2012], then smell and general illness. */
export const INFECTION_SIGNS = ['swelling', 'redness', 'pain', 'warmth', 'pus', 'odour', 'unwell'] as const;
export type InfectionSign = (typeof INFECTION_SIGNS)[number];

export const SKIN_AROUND = ['healthy', 'soggy', 'dry', 'fragile', 'irritated'] as const;
export type SkinAround = (typeof SKIN_AROUND)[number];

/** How much of a change the person can do alone. */
export const DOES_ALONE = ['everything', 'withHelp', 'nothing'] as const;
export type DoesAlone = (typeof DOES_ALONE)[number];

/** Millimetres, as measured in the clinic. */
export interface WoundSize {
  lengthMm: number;
  widthMm: number;
  depthMm?: number | undefined;
}

/** What the clinician entered about one wound. It stays on the desk; the plan does not carry it. */
export interface ClinicView {
  bed: readonly WoundBed[];
  /** Undefined while not known, for instance because the dressing just came off. */
  drainage: Band | undefined;
  drainageKind?: DrainageKind | undefined;
  signs: readonly InfectionSign[];
  /** Whether there is doubt about the circulation. */
  circulationDoubt: boolean;
  dryGangrene: boolean;
  /** A hollow to be filled rather than a surface to be covered. */
  cavity: boolean;
  skinAround: readonly SkinAround[];
  /** Undefined while nobody has said; it stays on the desk, so each version asks anew. */
  doesAlone?: DoesAlone | undefined;
}

/** A view before anything is entered. */
export const EMPTY_VIEW: ClinicView = {
  bed: [],
  drainage: undefined,
  signs: [],
  circulationDoubt: false,
  dryGangrene: false,
  cavity: false,
  skinAround: [],
};

/** Pus, or what may be a sign of it: thick and cloudy is never usual, green may be an infection [EV-EXU-09, EV-EXU-10]. */
const PUS_KINDS: readonly DrainageKind[] = ['cloudyThick', 'green'];

/**
 * The signs of infection in a view, drainage that is or may be pus among them.
 * One is enough for every caution here, although two make an infection
 * [EV-INF-01]: the cautious side.
 */
export function signsIn(view: ClinicView): readonly InfectionSign[] {
  const pus = view.drainageKind !== undefined && PUS_KINDS.includes(view.drainageKind);
  return INFECTION_SIGNS.filter((sign) => view.signs.includes(sign) || (sign === 'pus' && pus));
}
