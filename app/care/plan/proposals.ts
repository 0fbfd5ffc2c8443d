import type { Band } from '../check/questions.ts';
import type { FamilyId } from '../dressings/families.ts';
import { type ClinicView, signsIn } from './clinic-view.ts';

/** A dressing family that fits what was seen. The clinician decides; the words say what it does with fluid, never that it heals faster [EV-DRS-02, EV-DRS-04]. */
export interface Proposal {
  family: FamilyId;
  layer: 'primary' | 'secondary';
  /** Message key `proposal.<why>`. */
  why: string;
  /** Rows of the evidence table or `practice` (common practice of the trade). */
  source: readonly string[];
}

/** Something to think of beside the dressing. */
export interface Prompt {
  /** Message key `prompt.<id>`. */
  why: string;
  source: readonly string[];
}

type Reason = Pick<Proposal, 'why' | 'source'>;

const KEEPS_DRY: Reason = { why: 'proposal.keepsDry', source: ['EV-PRA-01', 'EV-DRS-07'] };
const ADDS_MOISTURE: Reason = { why: 'proposal.addsMoisture', source: ['EV-PRA-02', 'EV-DRS-06'] };
const HOLDS_GEL: Reason = { why: 'proposal.holdsGel', source: ['practice'] };
const TAKES_LITTLE: Reason = { why: 'proposal.takesLittle', source: ['EV-PRA-03', 'EV-LCD-07'] };
const TAKES_MUCH: Reason = { why: 'proposal.takesMuch', source: ['EV-PRA-04', 'EV-DRS-06'] };
const FOAM_ALONE: Reason = { why: 'proposal.foamAlone', source: ['EV-PRA-04', 'EV-PRA-05'] };
const FOAM_SECOND: Reason = { why: 'proposal.foamSecond', source: ['EV-PRA-05'] };
/** A cover for a day, because an infected wound is looked at every day [EV-DRS-08]. */
const DAILY_COVER: Reason = { why: 'proposal.dailyCover', source: ['EV-DRS-08', 'EV-PRA-05'] };
const HEAVY_COVER: Reason = { why: 'proposal.heavyCover', source: ['EV-LCD-03', 'practice'] };

const propose = (layer: Proposal['layer'], reason: Reason, ...families: readonly FamilyId[]): Proposal[] =>
  families.map((family) => ({ family, layer, ...reason }));

/** Skin that an adhesive border would tear or soak. */
const isTender = ({ skinAround }: ClinicView): boolean => ['soggy', 'fragile', 'irritated'].some((s) => skinAround.includes(s as never));

/** Which foam: with an adhesive border where the skin allows it, because it is one piece fewer to hold. */
export const foamFor = (seen: ClinicView): 'foam' | 'foamBordered' => (isTender(seen) ? 'foam' : 'foamBordered');

/** The first of two forms lies flat, the second fills a hollow. */
const formsOf = (seen: ClinicView, flat: FamilyId, filling: FamilyId): FamilyId[] => (seen.cavity ? [filling, flat] : [flat, filling]);

/**
 * Families that fit one amount of drainage, best fit first, first layers before
 * second ones.
 */
export function proposeForBand(seen: ClinicView, band: Band): Proposal[] {
  const infected = signsIn(seen).length > 0;
  if (seen.dryGangrene) return band === 'none' ? propose('secondary', KEEPS_DRY, 'dryGauze', 'absorbentPad') : [];
  if (band === 'none') {
    const gels = formsOf(seen, 'hydrogel', 'hydrogelGauze');
    return [...propose('primary', ADDS_MOISTURE, ...gels), ...propose('secondary', HOLDS_GEL, 'dryGauze')];
  }
  const foam = foamFor(seen);
  const daily = propose('secondary', DAILY_COVER, 'absorbentPad');
  const sheets = formsOf(seen, 'collagenSheet', 'collagenPowder');
  if (band === 'light') {
    return [...propose('primary', TAKES_LITTLE, ...sheets), ...(infected ? daily : propose('secondary', FOAM_SECOND, foam))];
  }
  const fibres = [...formsOf(seen, 'alginateSheet', 'alginateRope'), ...formsOf(seen, 'gellingFibreSheet', 'gellingFibreRope')];
  const absorbs = propose('primary', TAKES_MUCH, ...fibres);
  if (infected) return [...absorbs, ...daily];
  const covers = propose('secondary', FOAM_SECOND, foam);
  const pads = propose('secondary', HEAVY_COVER, 'absorbentPad');
  return [...absorbs, ...propose('primary', FOAM_ALONE, foam), ...(band === 'heavy' ? [...pads, ...covers] : covers)];
}

/** Families that fit what was seen; none while the amount of drainage is not known, save for dry gangrene. */
export function proposeFor(seen: ClinicView): Proposal[] {
  if (seen.dryGangrene) return proposeForBand(seen, 'none');
  return seen.drainage === undefined ? [] : proposeForBand(seen, seen.drainage);
}

/** What the view itself should make the clinician think of, before any dressing. */
export function promptsFor(seen: ClinicView): Prompt[] {
  const wet = seen.drainage !== undefined && seen.drainage !== 'none';
  const prompts: (Prompt | false)[] = [
    seen.dryGangrene && (wet || signsIn(seen).length > 0) && { why: 'prompt.gangreneNotDry', source: ['EV-INF-10'] },
    seen.bed.includes('blackSoft') && { why: 'prompt.softBlack', source: ['EV-INF-10'] },
    (seen.dryGangrene || seen.circulationDoubt) && { why: 'prompt.circulation', source: ['EV-PRA-01', 'EV-INF-06'] },
    seen.bed.includes('blackDry') && !seen.dryGangrene && { why: 'prompt.dryBlack', source: ['EV-DRS-07'] },
    signsIn(seen).length > 0 && { why: 'prompt.infection', source: ['EV-INF-01', 'EV-INF-11', 'EV-DRS-08'] },
    seen.bed.includes('boneOrTendon') && { why: 'prompt.bone', source: ['EV-INF-08', 'EV-INF-09'] },
    seen.drainage === undefined && !seen.dryGangrene && { why: 'prompt.drainageUnknown', source: ['practice'] },
    seen.skinAround.includes('soggy') && { why: 'prompt.soggySkin', source: ['EV-DRS-05', 'EV-PRA-03'] },
    (seen.doesAlone === 'withHelp' || seen.doesAlone === 'nothing') && { why: 'prompt.needsHelp', source: ['practice'] },
  ];
  return prompts.filter((p) => p !== false);
}
