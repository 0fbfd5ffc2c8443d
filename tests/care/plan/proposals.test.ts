import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BANDS, type Band, bandRank } from '../../../app/care/check/questions.ts';
import { familyOf, usualMostOf } from '../../../app/care/dressings/families.ts';
import { type ClinicView, EMPTY_VIEW, INFECTION_SIGNS, signsIn } from '../../../app/care/plan/clinic-view.ts';
import { draftRecipe, finishDraft } from '../../../app/care/plan/draft.ts';
import { findings } from '../../../app/care/plan/findings.ts';
import { leastPad, MARGIN_MM, reaches, USUAL_SIZES_MM, usualPadFor, usualSheetFor } from '../../../app/care/plan/margins.ts';
import { promptsFor, proposeFor, proposeForBand } from '../../../app/care/plan/proposals.ts';
import { proposeRecipes, suppliesFor } from '../../../app/care/plan/propose-recipes.ts';
import { blankPlan, REVIEW_DAYS_USUAL, startingPlan } from '../../../app/care/plan/starting-plan.ts';
import { CLINIC, nameOf, startingDraft, startingPoint, TODAY, view, views } from './drafts.ts';

const sizes = fc.record({ lengthMm: fc.integer({ min: 1, max: 160 }), widthMm: fc.integer({ min: 1, max: 120 }) });

const primaries = (seen: ClinicView): string[] =>
  proposeFor(seen)
    .filter((p) => p.layer === 'primary')
    .map((p) => p.family);
const secondaries = (seen: ClinicView): string[] =>
  proposeFor(seen)
    .filter((p) => p.layer === 'secondary')
    .map((p) => p.family);
const whys = (seen: ClinicView): string[] => promptsFor(seen).map((p) => p.why);

describe('families that fit', () => {
  test('dry gangrene: a plain dry dressing and nothing on the wound, whatever else is seen [EV-PRA-01, common practice]', () => {
    fc.assert(
      fc.property(views, (seen) => {
        const proposals = proposeFor({ ...seen, dryGangrene: true });
        expect(proposals.map((p) => p.family)).toEqual(['dryGauze', 'absorbentPad']);
        expect(proposals.every((p) => p.layer === 'secondary' && familyOf(p.family).keepsDry)).toBe(true);
      }),
    );
  });

  test('dry: hydrogel, as gel or as soaked gauze [EV-PRA-02, common practice; EV-DRS-06]', () => {
    expect(primaries(view({ drainage: 'none' }))).toEqual(['hydrogel', 'hydrogelGauze']);
    expect(primaries(view({ drainage: 'none', cavity: true }))).toEqual(['hydrogelGauze', 'hydrogel']);
  });

  test('light: collagen, as sheet or powder [EV-PRA-03, common practice]', () => {
    expect(primaries(view({ drainage: 'light' }))).toEqual(['collagenSheet', 'collagenPowder']);
    expect(primaries(view({ drainage: 'light', cavity: true }))).toEqual(['collagenPowder', 'collagenSheet']);
  });

  test('moderate to heavy: alginate or gelling fibre, sheet or rope, or foam [EV-PRA-04, common practice; EV-DRS-06]', () => {
    for (const drainage of ['moderate', 'heavy'] as const) {
      expect(primaries(view({ drainage }))).toEqual([
        'alginateSheet',
        'alginateRope',
        'gellingFibreSheet',
        'gellingFibreRope',
        'foamBordered',
      ]);
      expect(primaries(view({ drainage, cavity: true }))[0]).toBe('alginateRope');
      expect(secondaries(view({ drainage }))).toContain('foamBordered');
    }
  });

  test('foam is proposed as second layer over light drainage [EV-PRA-05, common practice]', () => {
    expect(secondaries(view({ drainage: 'light' }))).toEqual(['foamBordered']);
  });

  test.each(['soggy', 'fragile', 'irritated'] as const)('%s skin gets foam without an adhesive border (common practice)', (skin) => {
    expect(secondaries(view({ drainage: 'light', skinAround: [skin] }))).toEqual(['foam']);
  });

  test('signs of infection: no foam and nothing that seals [EV-DRS-08, IDSA 2012, from memory; EV-PRA-05]', () => {
    fc.assert(
      fc.property(views, fc.constantFrom(...INFECTION_SIGNS), (seen, sign) => {
        for (const band of BANDS) {
          const families = proposeForBand({ ...seen, signs: [sign] }, band).map((p) => p.family);
          expect(families.filter((f) => f.startsWith('foam') || familyOf(f).occlusive)).toEqual([]);
        }
      }),
    );
  });

  test('drainage not known: nothing is proposed, every band is a call', () => {
    const unknown = view({ drainage: undefined });
    expect(proposeFor(unknown)).toEqual([]);
    expect(Object.values(proposeRecipes(unknown))).toEqual(Array(4).fill({ callUs: true }));
    expect(whys(unknown)).toContain('prompt.drainageUnknown');
  });

  test('every proposal says why and on what ground', () => {
    fc.assert(
      fc.property(views, (seen) => {
        for (const { why, source } of [...proposeFor(seen), ...promptsFor(seen)]) {
          expect(why).toMatch(/^(proposal|prompt)\.[a-zA-Z]+$/);
          expect(source.length).toBeGreaterThan(0);
          for (const row of source) expect(row).toMatch(/^(EV-[A-Z]{3}-\d{2}|practice)$/);
        }
      }),
    );
  });
});

describe('what the view makes one think of', () => {
  test.each<[string, Partial<ClinicView>, string]>([
    ['dry gangrene means too little circulation [EV-PRA-01]', { dryGangrene: true, drainage: 'none' }, 'prompt.circulation'],
    ['doubt about the circulation [EV-INF-06, IDSA 2012]', { circulationDoubt: true }, 'prompt.circulation'],
    ['gangrene that drains [EV-INF-10, NICE NG19]', { dryGangrene: true, drainage: 'light' }, 'prompt.gangreneNotDry'],
    ['gangrene with a sign of infection [EV-INF-10]', { dryGangrene: true, drainage: 'none', signs: ['odour'] }, 'prompt.gangreneNotDry'],
    ['soft black tissue [EV-INF-10]', { bed: ['blackSoft'] }, 'prompt.softBlack'],
    ['dry black tissue not marked as gangrene [EV-DRS-07]', { bed: ['blackDry'] }, 'prompt.dryBlack'],
    ['a sign of infection [EV-INF-01, IDSA 2012]', { signs: ['warmth'] }, 'prompt.infection'],
    ['green drainage [EV-EXU-10]', { drainageKind: 'green' }, 'prompt.infection'],
    ['bone or tendon [EV-INF-09]', { bed: ['boneOrTendon'] }, 'prompt.bone'],
    ['soggy skin [EV-DRS-05, SVS/APMA/SVM 2016]', { skinAround: ['soggy'] }, 'prompt.soggySkin'],
    ['help needed (common practice)', { doesAlone: 'withHelp' }, 'prompt.needsHelp'],
  ])('%s', (_name, seen, why) => {
    expect(whys(view(seen))).toContain(why);
    expect(whys(view())).toEqual([]);
  });

  test('dry gangrene does not ask again whether dry black tissue is gangrene', () => {
    expect(whys(view({ bed: ['blackDry'], dryGangrene: true, drainage: 'none' }))).toEqual(['prompt.circulation']);
  });

  test('a view before anything is entered shows no sign', () => {
    expect(signsIn(EMPTY_VIEW)).toEqual([]);
    expect(signsIn(view({ signs: ['pus'], drainageKind: 'cloudyThick' }))).toEqual(['pus']);
  });
});

describe('recipes', () => {
  const covered = (seen: ClinicView): Band[] => BANDS.filter((b) => 'recipe' in (proposeRecipes(seen)[b] ?? {}));

  test('there is one for the amount found and for those beside it, and a call for the rest', () => {
    expect(covered(view({ drainage: 'none' }))).toEqual(['none', 'light']);
    expect(covered(view({ drainage: 'light' }))).toEqual(['none', 'light', 'moderate']);
    expect(covered(view({ drainage: 'moderate' }))).toEqual(['light', 'moderate', 'heavy']);
    expect(covered(view({ drainage: 'heavy' }))).toEqual(['moderate', 'heavy']);
    expect(covered(view({ dryGangrene: true, drainage: 'heavy' }))).toEqual(['none']);
  });

  test('with signs of infection every change is at least daily [EV-DRS-08, IDSA 2012, from memory]', () => {
    for (const drainage of BANDS) {
      const recipes = Object.values(proposeRecipes(view({ drainage, signs: ['pain'] }))).flatMap((b) => ('recipe' in b ? [b.recipe] : []));
      expect(recipes.map((r) => r.change)).toEqual(recipes.map(() => ({ kind: 'hours', hours: 24 })));
    }
  });

  test('a wound to be kept dry is neither rinsed nor covered with anything moist', () => {
    const own = draftRecipe(startingDraft(view({ dryGangrene: true, drainage: 'none' })).wounds[0] as never, 'none');
    expect(own?.steps.map((s) => s.step)).toEqual(['freshGloves', 'dryDressing', 'fix', 'throwAway', 'washHandsAgain']);
    expect([own?.cleanser, own?.skinProtection, own?.primary]).toEqual(['none', 'none', undefined]);
  });

  test('skin is protected from moderate drainage on, or where it is soggy already [EV-PRA-03, EV-DRS-05]', () => {
    const steps = (seen: ClinicView, band: Band) =>
      draftRecipe(startingDraft(seen).wounds[0] as never, band)?.steps.some((s) => s.step === 'protectSkin');
    expect([steps(view(), 'light'), steps(view(), 'moderate'), steps(view({ skinAround: ['soggy'] }), 'light')]).toEqual([
      false,
      true,
      true,
    ]);
  });

  test('every recipe uses what its steps need, and the supplies list has each thing once', () => {
    fc.assert(
      fc.property(views, fc.option(sizes, { nil: undefined }), (seen, size) => {
        const bands = Object.values(proposeRecipes(seen, size));
        const supplies = suppliesFor(bands).map((s) => s.id);
        expect(new Set(supplies).size).toBe(supplies.length);
        for (const band of bands) {
          if (!('recipe' in band)) continue;
          const { uses, steps, primary, secondary, skinProtection, fixation } = band.recipe;
          const items = uses.map((u) => u.item);
          expect(supplies).toEqual(expect.arrayContaining(items));
          const has = (step: string): boolean => steps.some((s) => s.step === step);
          expect(items.includes('saline')).toBe(has('clean'));
          expect(items.includes('barrierFilm')).toBe(has('protectSkin') && skinProtection === 'barrierFilm');
          expect(has('primary')).toBe(primary !== undefined);
          expect(items.filter((i) => i.startsWith(secondary?.family ?? '?'))).toHaveLength(1);
          expect(fixation === 'rollBandage').toBe(items.includes('rollBandage'));
        }
      }),
    );
  });
});

describe('no proposal makes a finding of its own', () => {
  test('a starting plan has nothing that stops or warns, and nothing to tell', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(views, fc.option(sizes, { nil: undefined })), { minLength: 1, maxLength: 4 }), (list) => {
        // Places without weight on them, and each its own: where a wound is, no proposal can help.
        const sites = ['heelBack', 'topOfFoot', 'innerAnkle', 'outerAnkle'] as const;
        const wounds = list.map(([own, size], i) => ({ id: `w${i + 1}`, site: sites[i], side: 'left' as const, view: own, size }));
        const draft = startingDraft(view(), { wounds });
        const seen = Object.fromEntries(wounds.map((w) => [w.id, w.view]));
        expect(findings(draft, seen, { today: TODAY }).filter((f) => f.id !== 'no-size')).toEqual([]);
        expect(finishDraft(draft)).toMatchObject({ ok: true });
      }),
    );
  });

  test('every family on its own is changed no more often than usual [EV-LCD, CMS LCD L33831]', () => {
    for (const drainage of BANDS) {
      for (const band of Object.values(proposeRecipes(view({ drainage })))) {
        if (!('recipe' in band)) continue;
        const most = usualMostOf(band.recipe.secondary?.family ?? '', band.recipe.fixation === 'adhesiveBorder');
        expect(most).toBeDefined();
      }
    }
  });
});

describe('sizes', () => {
  test('2.0 × 1.5 cm needs a pad of 7.1 × 6.6 cm [EV-LCD-05, CGS and Noridian; EV-SUP-05, own arithmetic]', () => {
    expect(leastPad({ lengthMm: 20, widthMm: 15 })).toEqual({ widthMm: 65.8, heightMm: 70.8 });
    expect(MARGIN_MM).toBe(25.4);
    expect(usualPadFor({ lengthMm: 20, widthMm: 15 })).toEqual({ widthMm: 75, heightMm: 75 });
  });

  test('the usual pad reaches the least one, and no smaller usual one does', () => {
    fc.assert(
      fc.property(sizes, (size) => {
        const own = usualPadFor(size);
        expect(own && reaches(own, leastPad(size))).toBeTruthy();
        const smaller = USUAL_SIZES_MM.slice(0, own && USUAL_SIZES_MM.indexOf(own));
        expect(smaller.filter((s) => reaches(s, leastPad(size)))).toEqual([]);
      }),
    );
  });

  test('a wound beyond every usual pad leaves the size open', () => {
    expect(usualPadFor({ lengthMm: 300, widthMm: 10 })).toBeUndefined();
    const draft = startingDraft(view(), {
      wounds: [{ id: 'w1', site: 'arch', side: 'left', view: view(), size: { lengthMm: 300, widthMm: 10 } }],
    });
    expect(draftRecipe(draft.wounds[0] as never, 'light')?.secondary).toEqual({ family: 'foamBordered' });
  });

  test('a sheet covers the wound itself and may be turned', () => {
    expect(usualSheetFor({ lengthMm: 51, widthMm: 10 })).toEqual({ widthMm: 75, heightMm: 75 });
    expect(usualSheetFor({ lengthMm: 180, widthMm: 90 })).toEqual({ widthMm: 100, heightMm: 200 });
    expect(usualSheetFor({ lengthMm: 90, widthMm: 180 })).toEqual({ widthMm: 100, heightMm: 200 });
  });
});

describe('where a plan begins', () => {
  const EMPTY = { clinic: { zone: 'America/Chicago' }, person: { id: 'p1', callMe: '', language: 'en' } };
  const filled = { ...CLINIC, hours: [...CLINIC.hours] };

  test.each([
    ['blank', blankPlan(startingPoint(view(), EMPTY))],
    ['proposed', startingPlan(startingPoint(view(), EMPTY), nameOf)],
    ['blank and dry', blankPlan(startingPoint(view({ dryGangrene: true }), EMPTY))],
  ])('%s: can be read once names and phones are in, and not before', (_name, draft) => {
    const reading = finishDraft(draft);
    expect(reading.ok ? [] : reading.faults.map((f) => f.path.join('.'))).toEqual(['clinic.name', 'clinic.phone', 'person.callMe']);
    const whole = { ...draft, clinic: filled, person: { ...draft.person, callMe: 'Ines' } };
    expect(finishDraft(whole).ok).toBe(true);
  });

  test('a blank plan says "call us" for every amount', () => {
    const [wound] = blankPlan(startingPoint(view())).wounds;
    expect(BANDS.map((b) => wound?.bands[b])).toEqual(Array(4).fill({ callUs: true }));
  });

  test('only the amount found is expected, so that more is told the same day', () => {
    for (const drainage of BANDS) expect(startingDraft(view({ drainage })).wounds[0]?.expectedDrainage).toEqual([drainage, drainage]);
    expect(startingDraft(view({ drainage: 'heavy', dryGangrene: true })).wounds[0]?.expectedDrainage).toEqual(['none', 'none']);
    expect(bandRank('none')).toBe(0);
  });

  test('it keeps what the desk knows, and is looked at after a fortnight', () => {
    const draft = startingDraft(view());
    expect(draft.clinic).toEqual(filled);
    expect(draft.reviewBy).toBe('2031-03-18');
    expect(REVIEW_DAYS_USUAL).toBe(14);
    expect(draft.wounds[0]?.baseline).toEqual({ day: TODAY, lengthMm: 22, widthMm: 16 });
    expect(draft.donts).not.toContain('noOintmentOnBlack');
    expect(startingDraft(view({ dryGangrene: true })).donts).toContain('noOintmentOnBlack');
  });
});
