import { RECIPE_STEPS } from '../../app/care/change/steps.ts';
import { BANDS } from '../../app/care/check/questions.ts';
import { finishDraft } from '../../app/care/plan/draft.ts';
import type { Plan, Recipe } from '../../app/care/plan/plan.ts';
import { DONTS } from '../../app/care/plan/plan.ts';
import { makeKeys } from '../../app/exchange/clinic-keys.ts';
import type { ClinicKeys } from '../../app/exchange/signature.ts';
import { startingDraft, view } from '../care/plan/drafts.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';

export const ADDRESS = 'https://alder-street.example/tendbook/';
export const PASSPHRASE = 'four herons over the mill';

let made: Promise<{ keys: ClinicKeys; file: string }> | undefined;
/** One pair for a whole test file, because locking one takes a good part of a second. */
export const clinic = (): Promise<{ keys: ClinicKeys; file: string }> => {
  made ??= makeKeys(PASSPHRASE);
  return made;
};

/** Few words: one wound, a blank plan with one call for everything but the amount found. */
export function smallPlan(): Plan {
  const reading = finishDraft(startingDraft(view({ dryGangrene: true, drainage: 'none' })));
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return reading.plan;
}

/** Three recipes as the desk proposes them, with the notes, the boot, the visit and the greeting that a clinic adds. */
export function typicalPlan(): Plan {
  const draft = startingDraft(view());
  const notes: Partial<Record<string, string>> = {
    primary: 'Fold it once if it is larger than the sore.',
    fix: 'Two turns are enough. It must not press.',
  };
  const wounds = draft.wounds.map((wound) => ({
    ...wound,
    known: ['odour:usual'],
    bands: Object.fromEntries(
      BANDS.map((band) => {
        const own = wound.bands[band];
        if (!own || !('recipe' in own)) return [band, { callUs: true as const }];
        const steps = own.recipe.steps.map((s) => (band === 'moderate' && notes[s.step] ? { ...s, note: notes[s.step] } : s));
        return [band, { recipe: { ...own.recipe, steps } }];
      }),
    ),
  }));
  return mustRead({
    ...draft,
    wounds,
    ownDonts: ['Do not walk to the mailbox without the boot.'],
    device: { kind: 'walkerBoot', note: 'At night too, when you get up.' },
    asks: ['offloading'],
    nextVisit: { day: '2031-03-18', time: '10:30' },
    greeting: 'Dear Ines, you did well today. Ring us when anything is unclear.',
  });
}

/** A supply of words that deflate cannot guess, the same in every run. */
export function words(seed: number): (letters: number) => string {
  let state = seed;
  const next = (most: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * most);
  };
  const consonants = 'bcdfghklmnprstvw';
  const vowels = 'aeiou';
  const syllable = (): string => `${consonants[next(16)]}${vowels[next(5)]}${next(3) === 0 ? consonants[next(16)] : ''}`;
  return (letters) => {
    let text = '';
    while (text.length < letters) text += `${text === '' ? '' : ' '}${Array.from({ length: 1 + next(3) }, syllable).join('')}`;
    return text.slice(0, letters).trimEnd().padEnd(letters, 'a');
  };
}

/** Everything the schema allows, every note filled to its last letter with words of its own. */
export function largestPlan(): Plan {
  const say = words(7);
  const recipe = (item: number): Recipe => ({
    primary: { family: 'gellingFibreSheet', name: say(60), widthMm: 123.4, heightMm: 234.5, silver: true, note: say(200) },
    secondary: { family: 'absorbentPad', name: say(60), widthMm: 123.4, heightMm: 234.5, silver: false, note: say(200) },
    fixation: 'tubularBandage',
    change: { kind: 'weekdays', days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] },
    cleanser: 'povidoneIodine',
    iodinePrescribed: true,
    skinProtection: 'barrierCream',
    steps: RECIPE_STEPS.map((step) => ({ step, note: say(240) })),
    uses: Array.from({ length: 20 }, (_, i) => ({ item: `item-${((item * 20 + i) % 60) + 1}`, amount: i + 0.5 })),
  });
  const base = demoPlan();
  return mustRead({
    ...base,
    id: 'x'.repeat(64),
    clinic: { ...base.clinic, name: say(80) },
    person: { ...base.person, callMe: say(40) },
    wounds: [1, 2, 3, 4].map((n) => ({
      ...base.wounds[0],
      id: `wound-${n}`,
      label: say(40),
      bands: Object.fromEntries(BANDS.map((band, i) => [band, { recipe: recipe(n * 4 + i) }])),
    })),
    supplies: Array.from({ length: 60 }, (_, i) => ({ id: `item-${i + 1}`, name: say(80), family: 'foam', packOf: i + 1 })),
    donts: [...DONTS],
    ownDonts: Array.from({ length: 8 }, () => say(160)),
    device: { kind: 'walkerBoot', note: say(200) },
    greeting: say(400),
  });
}

/** A plan of a stated number of wounds with four recipes each and a note of 60 letters at every step. */
export function longPlan(wounds: number): Plan {
  const say = words(11);
  const base = typicalPlan();
  const [first] = base.wounds;
  const recipe = first && 'recipe' in first.bands.moderate ? first.bands.moderate.recipe : undefined;
  if (!first || !recipe) throw new Error('no recipe');
  const noted = (): Recipe => ({ ...recipe, steps: recipe.steps.map((s) => ({ ...s, note: say(60) })) });
  return mustRead({
    ...base,
    wounds: Array.from({ length: wounds }, (_, i) => ({
      ...first,
      id: `w${i + 1}`,
      bands: Object.fromEntries(BANDS.map((band) => [band, { recipe: noted() }])),
    })),
  });
}
