import { describe, expect, test } from 'vitest';
import type { Band } from '../../../app/care/check/questions.ts';
import { DEFAULT_THRESHOLDS } from '../../../app/care/escalation/limits.ts';
import type { ClinicView } from '../../../app/care/plan/clinic-view.ts';
import { type DraftPlan, type DraftRecipe, finishDraft } from '../../../app/care/plan/draft.ts';
import {
  FINDING_IDS,
  FINDING_REASONS,
  FINDING_RULES,
  type Finding,
  type FindingContext,
  type FindingId,
  findings,
  mayHandOver,
} from '../../../app/care/plan/findings.ts';
import { openDayNear } from '../../../app/care/plan/plan-findings.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { startingDraft, TODAY, view, withRecipe } from './drafts.ts';
import { demoPlan, twoWoundPlan } from './plans.ts';

const run = (draft: DraftPlan, seen: ClinicView, context: Partial<FindingContext> = {}): Finding[] =>
  findings(draft, { w1: seen }, { today: TODAY, ...context });

interface Case {
  name: string;
  draft: DraftPlan;
  seen?: ClinicView;
  context?: Partial<FindingContext>;
  /** The findings of this id, as far as they are told; none means it must stay silent. */
  expect: readonly Partial<Finding>[];
}

const OPEN = view();
const DRY = view({ dryGangrene: true, drainage: 'none' });
const INFECTED = view({ signs: ['warmth'] });
const calm = startingDraft(OPEN);
const dry = startingDraft(DRY);
const light = startingDraft(view({ drainage: 'light' }));
const heavy = startingDraft(view({ drainage: 'heavy' }));

const own = (draft: DraftPlan, band: Band, change: Partial<DraftRecipe>): DraftPlan => withRecipe(draft, band, change);
const noted = (draft: DraftPlan, band: Band, step: 'clean' | 'fix' | 'washHandsAgain' | 'dryDressing', note: string): DraftPlan =>
  own(draft, band, { steps: [{ step, note }] });
const at = (band: Band, more: Partial<Finding> = {}): Partial<Finding> => ({ wound: 'w1', band, ...more });
const wound = (draft: DraftPlan, change: Partial<DraftPlan['wounds'][number]>): DraftPlan => ({
  ...draft,
  wounds: draft.wounds.map((w) => ({ ...w, ...change })),
});
const GAUZE = { family: 'dryGauze', widthMm: 100, heightMm: 100 } as const;

const visit = (day: string, time = '10:00'): DraftPlan => ({ ...calm, nextVisit: { day: day as LocalDay, time } });
type DraftWound = DraftPlan['wounds'][number];
/** Two wounds that were at one place, each changed. */
const twoAt = (one: Partial<DraftWound>, two: Partial<DraftWound>): DraftPlan => {
  const [first] = calm.wounds as [DraftWound];
  return {
    ...calm,
    wounds: [
      { ...first, ...one },
      { ...first, id: 'w2', ...two },
    ],
  };
};

/** Each finding both ways; its source stands with its rule, and beside a case where a figure comes from one. */
const CASES: Record<FindingId, readonly Case[]> = {
  // [EV-PRA-01, common practice; EV-DRS-07, NPIAP/EPUAP/PPPIA 2019, from memory]
  'moist-on-keep-dry': [
    { name: 'a dry pad', draft: dry, seen: DRY, expect: [] },
    { name: 'an absorbent pad', draft: own(dry, 'none', { secondary: { family: 'absorbentPad' } }), seen: DRY, expect: [] },
    {
      name: 'gel',
      draft: own(dry, 'none', { primary: { family: 'hydrogel' } }),
      seen: DRY,
      expect: [at('none', { params: { items: 'family:hydrogel' } })],
    },
    {
      name: 'a film over it',
      draft: own(dry, 'none', { secondary: { family: 'film' } }),
      seen: DRY,
      expect: [at('none', { params: { items: 'family:film' } })],
    },
    {
      name: 'gauze soaked in ointment',
      draft: own(dry, 'none', { primary: { family: 'impregnatedGauze' } }),
      seen: DRY,
      expect: [at('none')],
    },
    {
      name: 'an ointment for the skin',
      draft: own(dry, 'none', { skinProtection: 'zincPaste' }),
      seen: DRY,
      expect: [at('none', { params: { items: 'skinProtection:zincPaste' } })],
    },
    {
      name: 'a step that rinses',
      draft: own(dry, 'none', { steps: [{ step: 'clean' }, { step: 'dryDressing' }] }),
      seen: DRY,
      expect: [at('none', { params: { items: 'step:clean' } })],
    },
    {
      name: 'a step that puts on an ointment the recipe does not name',
      draft: own(dry, 'none', { steps: [{ step: 'protectSkin' }, { step: 'dryDressing' }] }),
      seen: DRY,
      expect: [at('none', { params: { items: 'step:protectSkin' } })],
    },
    {
      name: 'dry gangrene seen, but the plan is for an open wound: one for each recipe, with all that does not belong',
      draft: heavy,
      seen: DRY,
      expect: [
        at('moderate', { params: { items: 'family:alginateSheet,family:foamBordered,skinProtection:barrierFilm,step:clean' } }),
        at('heavy', { params: { items: 'family:alginateSheet,skinProtection:barrierFilm,step:clean' } }),
      ],
    },
    {
      name: 'the plan keeps it dry, though nothing was entered',
      draft: wound(light, { keepDry: true, bands: { none: light.wounds[0]?.bands.none } }),
      expect: [at('none', { params: { items: 'family:hydrogel,step:clean' } })],
    },
    { name: 'gel on a wound that is not to be kept dry', draft: light, expect: [] },
  ],
  // [EV-PRA-02, common practice; EV-DRS-06, payer indications]
  'absorptive-on-dry': [
    { name: 'gel', draft: light, expect: [] },
    {
      name: 'alginate',
      draft: own(light, 'none', { primary: { family: 'alginateSheet' } }),
      expect: [at('none', { params: { layer: 'primary', family: 'alginateSheet' } })],
    },
    { name: 'foam', draft: own(light, 'none', { primary: { family: 'foam' } }), expect: [at('none')] },
    { name: 'a pad as second layer only', draft: own(light, 'none', { secondary: { family: 'absorbentPad' } }), expect: [] },
    { name: 'alginate on light drainage', draft: own(light, 'light', { primary: { family: 'alginateSheet' } }), expect: [] },
    {
      name: 'a pad on a wound that must stay dry',
      draft: own(dry, 'none', { primary: { family: 'absorbentPad' } }),
      seen: DRY,
      expect: [],
    },
  ],
  // [EV-PRA-02, common practice; EV-DRS-06]
  'hydrogel-on-wet': [
    {
      name: 'moderate',
      draft: own(calm, 'moderate', { primary: { family: 'hydrogel' } }),
      expect: [at('moderate', { params: { layer: 'primary', family: 'hydrogel' } })],
    },
    { name: 'heavy, as gauze', draft: own(heavy, 'heavy', { primary: { family: 'hydrogelGauze' } }), expect: [at('heavy')] },
    { name: 'light', draft: own(calm, 'light', { primary: { family: 'hydrogel' } }), expect: [] },
    { name: 'fibres', draft: heavy, expect: [] },
  ],
  // [EV-PRA-03, common practice; EV-LCD-07, exclusion of heavy drainage from memory]
  'collagen-alone-on-wet': [
    {
      name: 'under gauze',
      draft: own(calm, 'moderate', { primary: { family: 'collagenSheet' }, secondary: GAUZE }),
      expect: [at('moderate', { params: { layer: 'primary', family: 'collagenSheet' } })],
    },
    {
      name: 'under nothing',
      draft: own(heavy, 'heavy', { primary: { family: 'collagenPowder' }, secondary: undefined }),
      expect: [at('heavy')],
    },
    { name: 'under foam', draft: own(calm, 'moderate', { primary: { family: 'collagenSheet' } }), expect: [] },
    { name: 'light drainage', draft: own(calm, 'light', { primary: { family: 'collagenSheet' }, secondary: GAUZE }), expect: [] },
  ],
  // [EV-LCD-17, CMS LCD L33831 as reproduced in a payer policy]
  'hydrating-with-absorptive': [
    {
      name: 'gel under alginate’s cover',
      draft: own(light, 'light', { primary: { family: 'hydrogel' }, secondary: { family: 'foam' } }),
      expect: [at('light', { params: { family: 'hydrogel', with: 'foam' } })],
    },
    { name: 'gel under a pad', draft: own(light, 'none', { secondary: { family: 'absorbentPad' } }), expect: [at('none')] },
    { name: 'gel under gauze', draft: light, expect: [] },
    { name: 'alginate under foam', draft: calm, expect: [] },
  ],
  // [EV-PRA-05, common practice; EV-DRS-08, IDSA 2012, from memory]
  'several-days-with-infection': [
    {
      name: 'foam for days',
      draft: calm,
      seen: INFECTED,
      expect: [
        at('light', { variant: 'foam', params: { layer: 'secondary', family: 'foamBordered', hours: 72 } }),
        at('moderate', { variant: 'foam' }),
      ],
    },
    {
      name: 'foam for a day',
      draft: ['light', 'moderate'].reduce((d, b) => own(d, b as Band, { change: { kind: 'hours', hours: 24 } }), calm),
      seen: INFECTED,
      expect: [],
    },
    {
      name: 'a film, though changed daily',
      draft: own(startingDraft(INFECTED), 'light', { secondary: { family: 'film' } }),
      seen: INFECTED,
      expect: [at('light', { variant: 'occlusive', params: { layer: 'secondary', family: 'film' } })],
    },
    {
      name: 'any other for two days',
      draft: own(startingDraft(INFECTED), 'heavy', { change: { kind: 'hours', hours: 48 } }),
      seen: INFECTED,
      expect: [at('heavy', { variant: 'wear', params: { hours: 48 } })],
    },
    {
      name: 'thick cloudy drainage is a sign too [EV-EXU-09, WUWHS 2007]',
      draft: calm,
      seen: view({ drainageKind: 'cloudyThick' }),
      expect: [at('light'), at('moderate')],
    },
    { name: 'no signs', draft: calm, expect: [] },
    { name: 'clear drainage', draft: calm, seen: view({ drainageKind: 'clear' }), expect: [] },
  ],
  // [EV-PRA-06, common practice; EV-DRS-09, peroxide S2, alcohol from memory]
  'harmful-cleanser': [
    { name: 'alcohol', draft: own(calm, 'light', { cleanser: 'alcohol' }), expect: [at('light', { params: { cleanser: 'alcohol' } })] },
    {
      name: 'hydrogen peroxide',
      draft: own(calm, 'light', { cleanser: 'hydrogenPeroxide' }),
      expect: [at('light', { params: { cleanser: 'hydrogenPeroxide' } })],
    },
    ...(['saline', 'boiledWater', 'tapWater', 'none'] as const).map(
      (cleanser): Case => ({ name: cleanser, draft: own(calm, 'light', { cleanser }), expect: [] }),
    ),
  ],
  'harmful-words': [
    {
      name: 'alcohol in a note',
      draft: noted(calm, 'light', 'clean', 'Wipe with Alcohol first.'),
      expect: [at('light', { variant: 'alcohol' })],
    },
    {
      name: 'peroxide in a Spanish note',
      draft: noted(calm, 'light', 'clean', 'Lave con AGUA OXIGENADA.'),
      expect: [at('light', { variant: 'peroxide' })],
    },
    { name: 'peroxide with an accent', draft: noted(calm, 'light', 'clean', 'peróxido'), expect: [at('light', { variant: 'peroxide' })] },
    {
      name: 'alcohol in an Arabic note, with "with the" before it',
      draft: noted(calm, 'light', 'clean', 'امسح الجرح بالكُحول.'),
      expect: [at('light', { variant: 'alcohol' })],
    },
    {
      name: 'peroxide in an Arabic note',
      draft: noted(calm, 'light', 'clean', 'نظّف بماء الأكسجين'),
      expect: [at('light', { variant: 'peroxide' })],
    },
    { name: 'a wipe without alcohol, in Arabic', draft: noted(calm, 'light', 'fix', 'منديل خالٍ من الكحول، بدون كحول'), expect: [] },
    { name: 'an Arabic word that only holds it', draft: noted(calm, 'light', 'fix', 'موجود، يودعها، تكريم'), expect: [] },
    {
      name: 'peroxide in a French note',
      draft: noted(calm, 'light', 'clean', 'Nettoyez à l’EAU OXYGÉNÉE.'),
      expect: [at('light', { variant: 'peroxide' })],
    },
    {
      name: 'alcohol and iodine in a French note, after an apostrophe',
      draft: noted(calm, 'light', 'clean', 'De l’alcool, puis de l’iode.'),
      expect: [at('light', { variant: 'alcohol' }), at('light', { variant: 'iodine' })],
    },
    {
      name: 'alcohol and iodine in a Vietnamese note',
      draft: noted(calm, 'light', 'clean', 'Lau bằng CỒN 70 độ, rồi bôi i-ốt.'),
      expect: [at('light', { variant: 'alcohol' }), at('light', { variant: 'iodine' })],
    },
    {
      name: 'alcohol in a Vietnamese note whose marks stand as letters of their own',
      draft: noted(calm, 'light', 'clean', 'Lau bằng cồn.'.normalize('NFD')),
      expect: [at('light', { variant: 'alcohol' })],
    },
    ...(['Rửa bằng nước oxy già.', 'Rửa bằng ôxy già.', 'Rua bang nuoc oxy gia.'] as const).map(
      (note): Case => ({ name: note, draft: noted(calm, 'light', 'clean', note), expect: [at('light', { variant: 'peroxide' })] }),
    ),
    {
      name: 'Vietnamese words that are others without their marks: still, less, zinc',
      draft: noted(dry, 'none', 'dryDressing', 'Nếu còn đau, dán kém chặt hơn. Không còn kẽm.'),
      seen: DRY,
      expect: [],
    },
    {
      name: 'a product’s name',
      draft: own(calm, 'light', { secondary: { family: 'foam', name: 'Iodine foam' } }),
      expect: [at('light', { variant: 'iodine' })],
    },
    {
      name: 'iodine that is prescribed',
      draft: own(calm, 'light', { secondary: { family: 'foam', name: 'Iodine foam' }, iodinePrescribed: true }),
      expect: [],
    },
    { name: 'the greeting', draft: { ...calm, greeting: 'Bring the alcohol.' }, expect: [{ variant: 'alcohol' }] },
    {
      name: 'a wipe without alcohol',
      draft: noted(calm, 'light', 'fix', 'Use the alcohol-free wipe. Toallita sin alcohol. Lingette sans alcool. Khăn lau không cồn.'),
      expect: [],
    },
    {
      name: 'an alcohol rub for hands [EV-PRO-02, WHO 2009]',
      draft: noted(calm, 'light', 'washHandsAgain', 'Alcohol rub will do.'),
      expect: [],
    },
    { name: 'a word that only holds it', draft: noted(calm, 'light', 'fix', 'workaholics, scream, creamy'), expect: [] },
    {
      name: 'an ointment on a wound to keep dry',
      draft: noted(dry, 'none', 'dryDressing', 'A little ointment, pomada, crème.'),
      seen: DRY,
      expect: [at('none', { variant: 'ointment' })],
    },
    {
      name: 'a cream or an ointment in a Vietnamese note on a wound to keep dry',
      draft: noted(dry, 'none', 'dryDressing', 'Thoa một ít kem hoặc thuốc mỡ.'),
      seen: DRY,
      expect: [at('none', { variant: 'ointment' })],
    },
    { name: 'an ointment on another wound', draft: noted(calm, 'light', 'clean', 'Then the ointment.'), expect: [] },
    { name: 'the don’ts, which name it on purpose', draft: { ...calm, ownDonts: ['No alcohol. No peroxide.'] }, expect: [] },
  ],
  // [EV-PRA-06, common practice]
  'iodine-not-prescribed': [
    { name: 'without the mark', draft: own(calm, 'light', { cleanser: 'povidoneIodine' }), expect: [at('light')] },
    {
      name: 'with the mark denied',
      draft: own(calm, 'light', { cleanser: 'povidoneIodine', iodinePrescribed: false }),
      expect: [at('light')],
    },
    { name: 'with the mark', draft: own(calm, 'light', { cleanser: 'povidoneIodine', iodinePrescribed: true }), expect: [] },
    { name: 'saline', draft: calm, expect: [] },
  ],
  'secondary-missing': [
    {
      name: 'alginate alone',
      draft: own(calm, 'moderate', { secondary: undefined }),
      expect: [at('moderate', { params: { layer: 'primary', family: 'alginateSheet' } })],
    },
    {
      name: 'a second layer that itself needs one',
      draft: own(calm, 'moderate', { secondary: { family: 'contactLayer' } }),
      expect: [at('moderate')],
    },
    { name: 'foam alone', draft: own(calm, 'moderate', { primary: { family: 'foam' }, secondary: undefined }), expect: [] },
    { name: 'alginate under foam', draft: calm, expect: [] },
    { name: 'a second layer alone', draft: own(calm, 'moderate', { primary: undefined }), expect: [] },
  ],
  // CMS LCD L33831: foam three times a week [EV-LCD-08, from memory], gauze three times a day [EV-LCD-02, read in a supplier's copy].
  'change-above-usual': [
    {
      name: 'foam daily',
      draft: own(light, 'light', { change: { kind: 'hours', hours: 24 } }),
      expect: [
        at('light', {
          variant: 'fromMemory',
          params: { layer: 'secondary', family: 'foamBordered', perWeek: 7, times: 3, days: 7, row: 'EV-LCD-08' },
        }),
      ],
    },
    {
      name: 'foam every other day',
      draft: own(light, 'light', { change: { kind: 'hours', hours: 48 } }),
      expect: [at('light', { params: { layer: 'secondary', family: 'foamBordered', perWeek: 3.5, times: 3, days: 7, row: 'EV-LCD-08' } })],
    },
    { name: 'foam on three days a week', draft: light, expect: [] },
    {
      name: 'foam every 56 hours, which is three times a week',
      draft: own(light, 'light', { change: { kind: 'hours', hours: 56 } }),
      expect: [],
    },
    { name: 'gauze three times a day', draft: own(dry, 'none', { change: { kind: 'timesADay', times: 3 } }), seen: DRY, expect: [] },
    {
      name: 'gauze four times a day',
      draft: own(dry, 'none', { change: { kind: 'timesADay', times: 4 } }),
      seen: DRY,
      expect: [
        at('none', {
          variant: 'read',
          params: { layer: 'secondary', family: 'dryGauze', perWeek: 28, times: 3, days: 1, row: 'EV-LCD-02' },
        }),
      ],
    },
    {
      name: 'gauze with a border twice a day',
      draft: own(dry, 'none', { fixation: 'adhesiveBorder', change: { kind: 'timesADay', times: 2 } }),
      seen: DRY,
      expect: [at('none', { params: { layer: 'secondary', family: 'dryGauze', perWeek: 14, times: 1, days: 1, row: 'EV-LCD-02' } })],
    },
    {
      name: 'an absorbent pad with a border every other day [EV-LCD-03]',
      draft: own(dry, 'none', { secondary: { family: 'absorbentPad' }, fixation: 'adhesiveBorder', change: { kind: 'hours', hours: 48 } }),
      seen: DRY,
      expect: [],
    },
    {
      name: 'an absorbent pad with a border daily [EV-LCD-03]',
      draft: own(dry, 'none', { secondary: { family: 'absorbentPad' }, fixation: 'adhesiveBorder' }),
      seen: DRY,
      expect: [at('none', { variant: 'read' })],
    },
    {
      name: 'alginate twice a day [EV-LCD-01], its pad too [EV-LCD-03]',
      draft: own(heavy, 'heavy', { change: { kind: 'timesADay', times: 2 } }),
      expect: [
        at('heavy', { params: { layer: 'primary', family: 'alginateSheet', perWeek: 14, times: 1, days: 1, row: 'EV-LCD-01' } }),
        at('heavy', { params: { layer: 'secondary', family: 'absorbentPad', perWeek: 14, times: 1, days: 1, row: 'EV-LCD-03' } }),
      ],
    },
    {
      name: 'gel, for which there is no figure',
      draft: own(light, 'none', { secondary: undefined, change: { kind: 'timesADay', times: 4 } }),
      expect: [],
    },
  ],
  // One inch on each side [EV-LCD-05, CGS and Noridian]: 22 × 16 mm needs 66.8 × 72.8 mm.
  'pad-too-small': [
    {
      name: 'a pad of 5 × 5 cm',
      draft: own(calm, 'light', { secondary: { family: 'foam', widthMm: 50, heightMm: 50 } }),
      expect: [at('light', { params: { widthMm: 50, heightMm: 50, leastWidthMm: 66.8, leastHeightMm: 72.8 } })],
    },
    { name: 'just large enough', draft: own(calm, 'light', { secondary: { family: 'foam', widthMm: 66.8, heightMm: 72.8 } }), expect: [] },
    {
      name: 'just large enough, turned',
      draft: own(calm, 'light', { secondary: { family: 'foam', widthMm: 72.8, heightMm: 66.8 } }),
      expect: [],
    },
    {
      name: 'long but narrow',
      draft: own(calm, 'light', { secondary: { family: 'foam', widthMm: 66.7, heightMm: 300 } }),
      expect: [at('light')],
    },
    {
      name: 'a first layer that is the cover',
      draft: own(calm, 'light', { primary: { family: 'foam', widthMm: 50, heightMm: 50 }, secondary: undefined }),
      expect: [at('light')],
    },
    {
      name: 'a sheet below a cover',
      draft: own(calm, 'light', { primary: { family: 'collagenSheet', widthMm: 20, heightMm: 20 } }),
      expect: [],
    },
    { name: 'no size given', draft: own(calm, 'light', { secondary: { family: 'foam', widthMm: 50 } }), expect: [] },
    {
      name: 'no wound measured',
      draft: wound(own(calm, 'light', { secondary: { family: 'foam', widthMm: 50, heightMm: 50 } }), { baseline: undefined }),
      expect: [],
    },
  ],
  // [EV-DRS-02, IWGDF 2019: no antimicrobial dressing solely to speed healing; EV-PRA-07]
  'silver-without-signs': [
    {
      name: 'silver, no signs',
      draft: own(calm, 'moderate', { primary: { family: 'alginateSheet', silver: true } }),
      expect: [at('moderate', { params: { layer: 'primary', family: 'alginateSheet' } })],
    },
    {
      name: 'silver with a sign',
      draft: own(calm, 'moderate', { primary: { family: 'alginateSheet', silver: true } }),
      seen: INFECTED,
      expect: [],
    },
    { name: 'silver denied', draft: own(calm, 'moderate', { primary: { family: 'alginateSheet', silver: false } }), expect: [] },
    { name: 'no silver', draft: calm, expect: [] },
  ],
  'band-open': [
    {
      name: 'a band not written',
      draft: wound(calm, { bands: { ...calm.wounds[0]?.bands, none: undefined } }),
      expect: [at('none', { variant: 'open' })],
    },
    { name: 'no band written', draft: wound(calm, { bands: {} }), expect: [at('none'), at('light'), at('moderate'), at('heavy')] },
    {
      name: 'a recipe without a dressing',
      draft: own(calm, 'light', { primary: undefined, secondary: undefined }),
      expect: [at('light', { variant: 'empty' })],
    },
    { name: 'a recipe without steps', draft: own(calm, 'light', { steps: [] }), expect: [at('light', { variant: 'empty' })] },
    { name: 'only the step of a dry dressing', draft: own(dry, 'none', { secondary: undefined }), seen: DRY, expect: [] },
    { name: 'all covered or a call', draft: calm, expect: [] },
  ],
  'no-out-of-hours-phone': [
    { name: 'none', draft: { ...calm, clinic: { ...calm.clinic, outOfHoursPhone: undefined } }, expect: [{ params: {} }] },
    { name: 'blanks', draft: { ...calm, clinic: { ...calm.clinic, outOfHoursPhone: '  ' } }, expect: [{}] },
    { name: 'one', draft: calm, expect: [] },
  ],
  // Common practice: the number stands on every page; without it the phone goes by its own region.
  'no-emergency-number': [
    {
      name: 'none, on a desk in the United States',
      draft: { ...calm, clinic: { ...calm.clinic, emergencyNumber: undefined } },
      context: { region: 'US' },
      expect: [{ params: { number: '911' } }],
    },
    {
      // ITU-T E.161.1 recommends the two (from memory).
      name: 'blanks, in no region',
      draft: { ...calm, clinic: { ...calm.clinic, emergencyNumber: ' ' } },
      expect: [{ params: { number: '112 / 911' } }],
    },
    { name: 'one', draft: calm, expect: [] },
  ],
  // The rules' own reading of a clinic without hours, see who-to-call: closed.
  'no-hours': [
    { name: 'none', draft: { ...calm, clinic: { ...calm.clinic, hours: [] } }, expect: [{ params: {} }] },
    { name: 'two days a week', draft: calm, expect: [] },
  ],
  'place-open': [
    { name: 'nothing chosen', draft: wound(calm, { site: undefined, side: undefined }), expect: [{ wound: 'w1', variant: 'both' }] },
    { name: 'only the foot', draft: wound(calm, { site: undefined }), expect: [{ wound: 'w1', variant: 'site' }] },
    { name: 'only the place', draft: wound(calm, { side: undefined }), expect: [{ wound: 'w1', variant: 'side' }] },
    { name: 'both', draft: calm, expect: [] },
  ],
  'same-place': [
    { name: 'one wound', draft: calm, expect: [] },
    { name: 'two without names', draft: twoAt({}, {}), expect: [{ wound: 'w1' }, { wound: 'w2' }] },
    { name: 'one of two without a name', draft: twoAt({ label: 'upper' }, { label: ' ' }), expect: [{ wound: 'w2' }] },
    { name: 'one name for both', draft: twoAt({ label: 'Upper' }, { label: 'upper ' }), expect: [{ wound: 'w2' }] },
    { name: 'a name each', draft: twoAt({ label: 'upper' }, { label: 'lower' }), expect: [] },
    { name: 'one on each foot', draft: twoAt({}, { side: 'right' }), expect: [] },
    { name: 'places not chosen yet', draft: twoAt({ site: undefined }, { site: undefined }), expect: [] },
  ],
  // Common practice; EV-HEA-08, SVS/APMA/SVM 2016, names off-loading among the things to look at again when a wound stalls.
  'no-offloading': [
    { name: 'under the heel, nothing worn', draft: wound(calm, { site: 'heelUnder' }), expect: [{ wound: 'w1', params: {} }] },
    { name: 'under the ball', draft: wound(calm, { site: 'ballMiddle' }), expect: [{ wound: 'w1' }] },
    { name: 'under the heel, with a boot', draft: { ...wound(calm, { site: 'heelUnder' }), device: { kind: 'walkerBoot' } }, expect: [] },
    { name: 'behind the heel', draft: calm, expect: [] },
  ],
  // EV-HEA-08, SVS/APMA/SVM 2016: measure every one to four weeks; that needs a first size.
  'no-size': [
    { name: 'not measured', draft: wound(calm, { baseline: undefined }), expect: [{ wound: 'w1', params: {} }] },
    { name: 'measured', draft: calm, expect: [] },
  ],
  // The clinic is open on Mondays and Thursdays; 4 March 2031 is a Tuesday.
  'visit-day': [
    { name: 'yesterday', draft: visit('2031-03-03'), expect: [{ variant: 'past', params: { day: '2031-03-03' } }] },
    { name: 'a Thursday', draft: visit('2031-03-06'), expect: [] },
    { name: 'a Friday', draft: visit('2031-03-07'), expect: [{ variant: 'closed', params: { day: '2031-03-07' } }] },
    {
      name: 'a Thursday that is a day closed',
      draft: { ...visit('2031-03-06'), clinic: { ...calm.clinic, closedDays: ['2031-03-06' as LocalDay] } },
      expect: [{ variant: 'closed' }],
    },
    { name: 'no hours known', draft: { ...visit('2031-03-07'), clinic: { ...calm.clinic, hours: [] } }, expect: [] },
    { name: 'half typed', draft: visit('2031-03'), expect: [] },
    { name: 'no visit', draft: calm, expect: [] },
  ],
  'visit-time': [
    { name: 'no time', draft: visit('2031-03-06', ''), expect: [{ params: { day: '2031-03-06' } }] },
    { name: 'a time', draft: visit('2031-03-06'), expect: [] },
    { name: 'no visit', draft: calm, expect: [] },
  ],
  // Within four weeks [EV-LCD-06, CGS and Noridian: evaluate at least monthly; EV-HEA-08, SVS/APMA/SVM 2016: every one to four weeks].
  'review-date': [
    { name: 'missing', draft: { ...calm, reviewBy: undefined }, expect: [{ variant: 'missing', params: { most: 28 } }] },
    { name: 'half typed', draft: { ...calm, reviewBy: '2031-03' as LocalDay }, expect: [{ variant: 'missing' }] },
    {
      name: 'in 29 days',
      draft: { ...calm, reviewBy: '2031-04-02' as LocalDay },
      expect: [{ variant: 'late', params: { days: 29, most: 28 } }],
    },
    { name: 'in 28 days', draft: { ...calm, reviewBy: '2031-04-01' as LocalDay }, expect: [] },
    { name: 'today', draft: { ...calm, reviewBy: TODAY }, expect: [] },
    {
      name: 'yesterday',
      draft: { ...calm, reviewBy: '2031-03-03' as LocalDay },
      expect: [{ variant: 'past', params: { day: '2031-03-03' } }],
    },
  ],
  // Own arithmetic: 4 March 2031 is a Tuesday, foam on Mon, Wed and Fri, the visit on the 18th: 5, 7, 10, 12, 14 and 17 March.
  'supplies-run-out': [
    { name: 'six changes with six foams', draft: calm, context: { onHand: { 'foamBordered-75x75': 6 } }, expect: [] },
    {
      name: 'six changes with five',
      draft: calm,
      context: { onHand: { 'foamBordered-75x75': 5 } },
      expect: [{ params: { item: 'foamBordered-75x75', name: 'foamBordered 7.5 × 7.5 cm', day: '2031-03-17', visit: '2031-03-18' } }],
    },
    {
      name: 'none at all',
      draft: calm,
      context: { onHand: { 'foamBordered-75x75': 0 } },
      expect: [{ params: { item: 'foamBordered-75x75', name: 'foamBordered 7.5 × 7.5 cm', day: '2031-03-05', visit: '2031-03-18' } }],
    },
    {
      name: 'four swabs at a time, eleven left',
      draft: calm,
      context: { onHand: { swabs: 11 } },
      expect: [{ params: { item: 'swabs', name: 'swabs', day: '2031-03-10', visit: '2031-03-18' } }],
    },
    { name: 'daily: 14 of them', draft: heavy, context: { onHand: { saline: 14 } }, expect: [] },
    {
      name: 'daily: 13 of them',
      draft: heavy,
      context: { onHand: { saline: 13 } },
      expect: [{ params: { item: 'saline', name: 'saline', day: '2031-03-17', visit: '2031-03-18' } }],
    },
    {
      name: 'every 36 hours, 4, 5, 7, 8 …',
      draft: own(heavy, 'heavy', { change: { kind: 'hours', hours: 36 } }),
      context: { onHand: { saline: 3 } },
      expect: [{ params: { item: 'saline', name: 'saline', day: '2031-03-08', visit: '2031-03-18' } }],
    },
    {
      name: 'twice a day, five of them',
      draft: own(heavy, 'heavy', { change: { kind: 'timesADay', times: 2 } }),
      context: { onHand: { saline: 5 } },
      expect: [{ params: { item: 'saline', name: 'saline', day: '2031-03-06', visit: '2031-03-18' } }],
    },
    {
      name: 'the wettest expected band counts',
      draft: wound(heavy, { expectedDrainage: ['moderate', 'heavy'] }),
      context: { onHand: { saline: 13 } },
      expect: [{}],
    },
    {
      name: 'an earlier visit comes before the review',
      draft: { ...heavy, nextVisit: { day: '2031-03-17' as LocalDay, time: '09:00' } },
      context: { onHand: { saline: 13 } },
      expect: [],
    },
    {
      name: 'two wounds draw on one stock',
      draft: { ...heavy, wounds: [...heavy.wounds, ...heavy.wounds.map((w) => ({ ...w, id: 'w2' }))] },
      context: { onHand: { saline: 27 } },
      expect: [{ params: { item: 'saline', name: 'saline', day: '2031-03-17', visit: '2031-03-18' } }],
    },
    { name: 'nothing known of the stock', draft: heavy, context: { onHand: {} }, expect: [] },
    { name: 'no day to last to', draft: { ...heavy, reviewBy: undefined }, context: { onHand: { saline: 0 } }, expect: [] },
  ],
  'loosens-escalation': [
    {
      name: 'fever only from 38.5',
      draft: { ...calm, escalation: { thresholds: { feverC: 38.5 } } },
      expect: [{ variant: 'threshold', params: { field: 'escalation.thresholds.feverC', value: 38.5, most: 38 } }],
    },
    {
      name: 'a threshold that is no number',
      draft: { ...calm, escalation: { thresholds: { growthShare: Number.NaN } } },
      expect: [{ variant: 'threshold' }],
    },
    {
      name: 'a rule lowered',
      draft: { ...calm, escalation: { raise: { fever: 'mention' } } },
      expect: [{ variant: 'rule', params: { field: 'escalation.raise.fever', value: 'mention', least: 'callNow' } }],
    },
    {
      name: 'green known, the milder cloudy not',
      draft: wound(calm, { known: ['drainageColour:green'] }),
      expect: [{ wound: 'w1', variant: 'known', params: { field: 'known', value: 'drainageColour:green' } }],
    },
    {
      name: 'both known',
      draft: wound(calm, { known: ['drainageColour:red', 'drainageColour:green', 'drainageColour:cloudyThick'] }),
      expect: [],
    },
    {
      name: 'everything at the table’s own values',
      draft: { ...calm, escalation: { thresholds: { ...DEFAULT_THRESHOLDS }, raise: { fever: 'callNow' } } },
      expect: [],
    },
    { name: 'stricter', draft: { ...calm, escalation: { thresholds: { feverC: 37.5 }, raise: { fever: 'emergency' } } }, expect: [] },
  ],
};

describe.each(Object.entries(CASES))('%s', (id, cases) => {
  test.each(cases.map((c) => [c.name, c] as const))('%s', (_name, c) => {
    const found = run(c.draft, c.seen ?? OPEN, c.context).filter((f) => f.id === id);
    expect(found.map((f) => [f.band, f.variant, f.params].join())).toHaveLength(c.expect.length);
    for (const [i, expected] of c.expect.entries()) expect(found[i]).toMatchObject(expected);
  });
});

describe('the day of the next visit', () => {
  const day = (text: string) => text as LocalDay;
  const latest = day('2031-04-01');
  test('moves on to a day when the clinic is open', () => {
    expect(openDayNear(calm.clinic, day('2031-03-18'), latest)).toBe('2031-03-20');
    expect(openDayNear(calm.clinic, day('2031-03-20'), latest)).toBe('2031-03-20');
    expect(openDayNear({ ...calm.clinic, closedDays: [day('2031-03-20')] }, day('2031-03-18'), latest)).toBe('2031-03-24');
  });
  test('moves back where the next would be past the latest day for the review', () => {
    expect(openDayNear(calm.clinic, latest, latest)).toBe('2031-03-31');
  });
  test('stays where the plan has no hours', () => {
    expect(openDayNear({ ...calm.clinic, hours: [] }, day('2031-03-18'), latest)).toBe('2031-03-18');
  });
});

describe('the table of findings', () => {
  test('every id is covered, both firing and silent', () => {
    expect(Object.keys(CASES).sort()).toEqual([...FINDING_IDS].sort());
    for (const [id, cases] of Object.entries(CASES)) {
      expect([id, cases.some((c) => c.expect.length > 0), cases.some((c) => c.expect.length === 0)]).toEqual([id, true, true]);
    }
  });

  test('every variant of a rule is shown by a case', () => {
    const shown = new Set(
      Object.entries(CASES).flatMap(([id, cases]) =>
        cases.flatMap((c) =>
          run(c.draft, c.seen ?? OPEN, c.context)
            .filter((f) => f.id === id)
            .map((f) => f.reason),
        ),
      ),
    );
    expect([...shown].sort()).toEqual([...FINDING_REASONS].sort());
  });

  test('gravities are those of the desk’s list', () => {
    expect(Object.fromEntries(FINDING_RULES.map((r) => [r.id, r.gravity]))).toEqual({
      'moist-on-keep-dry': 'stops',
      'absorptive-on-dry': 'warns',
      'hydrogel-on-wet': 'warns',
      'collagen-alone-on-wet': 'warns',
      'hydrating-with-absorptive': 'warns',
      'several-days-with-infection': 'warns',
      'harmful-cleanser': 'stops',
      'harmful-words': 'warns',
      'iodine-not-prescribed': 'stops',
      'secondary-missing': 'stops',
      'change-above-usual': 'tells',
      'pad-too-small': 'tells',
      'silver-without-signs': 'tells',
      'band-open': 'stops',
      'no-out-of-hours-phone': 'warns',
      'no-emergency-number': 'warns',
      'no-hours': 'warns',
      'place-open': 'stops',
      'same-place': 'stops',
      'no-offloading': 'warns',
      'no-size': 'tells',
      'review-date': 'warns',
      'supplies-run-out': 'warns',
      'visit-day': 'warns',
      'visit-time': 'stops',
      'loosens-escalation': 'stops',
    });
  });

  test('every rule names its source', () => {
    for (const { source } of FINDING_RULES) {
      expect(source.length).toBeGreaterThan(0);
      for (const row of source) expect(row).toMatch(/^(EV-[A-Z]{3}-\d{2}|practice|cautious)$/);
    }
  });

  test('a plan without trouble has no finding; stopping ones come first and bar the hand-over', () => {
    expect(run(calm, OPEN)).toEqual([]);
    expect(mayHandOver([])).toBe(true);
    const many = run({ ...own(calm, 'light', { cleanser: 'alcohol', change: { kind: 'hours', hours: 24 } }), reviewBy: undefined }, OPEN);
    expect(many.map((f) => f.gravity)).toEqual(['stops', 'warns', 'tells']);
    expect(mayHandOver(many)).toBe(false);
    expect(mayHandOver(many.slice(1))).toBe(true);
  });

  test('a draft with alcohol can be held but never becomes a plan', () => {
    expect(finishDraft(own(calm, 'light', { cleanser: 'alcohol' })).ok).toBe(false);
    expect(finishDraft(calm).ok).toBe(true);
  });

  test('a finished plan is a draft as it stands', () => {
    const found = findings(twoWoundPlan(), {}, { today: '2031-03-02' as LocalDay });
    expect(found.filter((f) => f.gravity === 'stops')).toEqual([]);
    // The demo lays foam over gel, changes foam daily, and its visit is on a Sunday.
    expect(findings(demoPlan(), {}, { today: '2031-03-02' as LocalDay }).map((f) => f.id)).toEqual([
      'hydrating-with-absorptive',
      'visit-day',
      'change-above-usual',
      'change-above-usual',
      'change-above-usual',
    ]);
  });
});
