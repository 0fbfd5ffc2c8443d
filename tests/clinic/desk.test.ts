import { describe, expect, it } from 'vitest';
import { BANDS } from '../../app/care/check/questions.ts';
import { EMPTY_VIEW } from '../../app/care/plan/clinic-view.ts';
import { planVerdict } from '../../app/care/plan/compare.ts';
import { draftRecipe, finishDraft } from '../../app/care/plan/draft.ts';
import { findings } from '../../app/care/plan/findings.ts';
import type { Clinic } from '../../app/care/plan/plan.ts';
import { blankPlan, startingPlan } from '../../app/care/plan/starting-plan.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { callList } from '../../app/clinic/call-list.ts';
import {
  addWound,
  countVersion,
  type DeskState,
  handOver,
  removeWound,
  setBand,
  setPerson,
  setPlan,
  setSize,
  setView,
  standingOf,
  useProposals,
  viewOf,
  woundOf,
} from '../../app/clinic/desk-state.ts';
import { fits } from '../../app/clinic/kept.ts';
import { beginRecipe, moved, withCleanser, withDressing, withFixation, withSkinProtection } from '../../app/clinic/recipe-edits.ts';
import { needBehind, needOf, renamed } from '../../app/clinic/supplies.ts';
import { demoPlan } from '../care/plan/plans.ts';

const today = '2031-03-04' as LocalDay;
const nameOf = (need: { id: string }) => `<${need.id}>`;
const clinic: Clinic = { name: 'Alder Street', phone: '+1 312 555 0142', hours: [], zone: 'America/Chicago' };

function desk(proposed: boolean): DeskState {
  const start = {
    id: 'plan',
    person: { id: 'nela', callMe: 'Nela', language: 'en' },
    clinic,
    zone: 'UTC',
    issued: today,
    wounds: [{ id: 'w1', site: 'bigToe' as const, side: 'left' as const, view: EMPTY_VIEW }],
  };
  return { draft: proposed ? startingPlan(start, nameOf) : blankPlan(start), seen: {}, follows: proposed ? ['w1'] : [], onHand: {} };
}
const size = { lengthMm: 22, widthMm: 16 };
const used = (state: DeskState) =>
  new Set(state.draft.wounds.flatMap((w) => BANDS.flatMap((b) => draftRecipe(w, b)?.uses.map((u) => u.item) ?? [])));
const supplyIds = (state: DeskState) => new Set(state.draft.supplies.map((s) => s.id));

describe('recipes that follow what is seen', () => {
  const seen = setSize('w1', size, today, nameOf)(setView('w1', { drainage: 'light' }, nameOf)(desk(true)));

  it('change with the amount, and so do the supplies and what is expected', () => {
    expect(draftRecipe(seen.draft.wounds[0] as never, 'light')?.primary?.family).toBe('collagenSheet');
    expect(draftRecipe(seen.draft.wounds[0] as never, 'heavy')).toBeUndefined();
    expect(supplyIds(seen)).toEqual(used(seen));
    const wetter = setView('w1', { drainage: 'heavy' }, nameOf)(seen);
    expect(draftRecipe(wetter.draft.wounds[0] as never, 'heavy')?.primary?.family).toBe('alginateSheet');
    expect(woundOf(wetter, 'w1')?.expectedDrainage).toEqual(['heavy', 'heavy']);
    expect(supplyIds(wetter)).toEqual(used(wetter));
    expect(finishDraft(wetter.draft).ok).toBe(true);
  });

  it('stay as they are once one is edited by hand', () => {
    const edited = setBand('w1', 'heavy', () => ({ recipe: beginRecipe(EMPTY_VIEW, 'heavy', size) }), nameOf)(seen);
    const later = setView('w1', { drainage: 'moderate' }, nameOf)(edited);
    expect(later.draft.wounds[0]?.bands).toEqual(edited.draft.wounds[0]?.bands);
    expect(useProposals('w1', nameOf)(later).follows).toEqual(['w1']);
  });

  it('keep a wound with dry gangrene dry in the plan too', () => {
    const dry = setView('w1', { dryGangrene: true }, nameOf)(seen);
    expect(woundOf(dry, 'w1')?.keepDry).toBe(true);
    expect(dry.draft.donts).toContain('noOintmentOnBlack');
    expect(finishDraft(dry.draft).ok).toBe(true);
    expect(setView('w1', { dryGangrene: false }, nameOf)(dry).draft.donts).not.toContain('noOintmentOnBlack');
  });
});

describe('a blank plan', () => {
  it('expects what was found, and leaves a range that somebody chose', () => {
    const found = setView('w1', { drainage: 'moderate' }, nameOf)(desk(false));
    expect(woundOf(found, 'w1')?.expectedDrainage).toEqual(['moderate', 'moderate']);
    const wider = setPlan({ wounds: [{ ...(found.draft.wounds[0] as never as object), expectedDrainage: ['light', 'heavy'] } as never] })(
      found,
    );
    expect(woundOf(setView('w1', { drainage: 'light' }, nameOf)(wider), 'w1')?.expectedDrainage).toEqual(['light', 'heavy']);
  });

  it('takes up to four wounds and gives each an id of its own', () => {
    const many = [1, 2, 3, 4].reduce((state) => addWound(state), desk(false));
    expect(many.draft.wounds.map((w) => w.id)).toEqual(['w1', 'w2', 'w3', 'w4']);
    const fewer = removeWound('w2')(many);
    expect(addWound(fewer).draft.wounds.map((w) => w.id)).toEqual(['w1', 'w3', 'w4', 'w2']);
  });
});

describe('where a wound is', () => {
  it('is chosen by somebody: nothing of it stands in a new plan or an added wound, and that stops the hand-over', () => {
    const start = { id: 'p', person: { id: 'n', callMe: 'Nela', language: 'en' }, clinic, zone: 'UTC', issued: today };
    const fresh = blankPlan({ ...start, wounds: [{ id: 'w1', view: EMPTY_VIEW }] });
    const state = addWound({ draft: fresh, seen: {}, follows: [], onHand: {} });
    for (const wound of state.draft.wounds) expect([wound.site, wound.side]).toEqual([undefined, undefined]);
    const stops = findings(state.draft, {}, { today }).filter((f) => f.gravity === 'stops');
    expect(stops.map((f) => [f.id, f.wound])).toEqual([
      ['place-open', 'w1'],
      ['place-open', 'w2'],
    ]);
    expect(finishDraft(state.draft).ok).toBe(false);
  });
});

describe('how much of a change the person can do alone', () => {
  it('is nothing that a new version makes up', () => {
    expect(viewOf(desk(false), 'w1').doesAlone).toBeUndefined();
  });
});

describe('editing a recipe', () => {
  const recipe = beginRecipe({ ...EMPTY_VIEW, drainage: 'light' }, 'light', size);
  const none = () => undefined;

  it('never names one dressing and counts another', () => {
    const changed = withDressing(recipe, 'primary', { family: 'alginateSheet', widthMm: 50, heightMm: 50 }, none);
    const items = changed.uses.map((u) => u.item);
    expect(items).toContain('alginateSheet-50x50');
    expect(items.filter((i) => i.startsWith('collagen'))).toEqual([]);
  });

  it('finds the supply of an earlier plan by its family', () => {
    const earlier = { ...recipe, uses: [{ item: 'collagen', amount: 2 }] };
    const changed = withDressing(earlier, 'primary', { family: 'alginateSheet' }, (i) => (i === 'collagen' ? 'collagenSheet' : undefined));
    expect(changed.uses).toEqual([{ item: 'alginateSheet', amount: 2 }]);
  });

  it('holds a cover without a border with a bandage, one with a border by itself', () => {
    const plain = withDressing(recipe, 'secondary', { family: 'absorbentPad' }, none);
    expect(plain.fixation).toBe('rollBandage');
    expect(plain.uses.map((u) => u.item)).toContain('rollBandage');
    const bordered = withDressing(plain, 'secondary', { family: 'foamBordered' }, none);
    expect(bordered.fixation).toBe('adhesiveBorder');
    expect(bordered.uses.map((u) => u.item)).not.toContain('rollBandage');
  });

  it('puts a step in at its usual place and takes it out with its reason', () => {
    const without = withSkinProtection(withCleanser(withFixation(recipe, 'none'), 'none'), 'none');
    expect(without.steps.map((s) => s.step)).toEqual(['freshGloves', 'dryAround', 'primary', 'secondary', 'throwAway', 'washHandsAgain']);
    const back = withSkinProtection(withCleanser(without, 'saline'), 'barrierFilm');
    expect(back.steps.map((s) => s.step).slice(0, 4)).toEqual(['freshGloves', 'clean', 'dryAround', 'protectSkin']);
  });

  it('takes the mark of prescription away with the iodine', () => {
    const iodine = { ...withCleanser(recipe, 'povidoneIodine'), iodinePrescribed: true };
    expect(withCleanser(iodine, 'saline')).not.toHaveProperty('iodinePrescribed');
  });

  it('moves a step and loses none at the ends', () => {
    const order = (r: typeof recipe) => r.steps.map((s) => s.step);
    expect(order(moved(recipe, 0, 1)).slice(0, 2)).toEqual(order(recipe).slice(0, 2).reverse());
    expect(order(moved(recipe, 0, -1))).toEqual(order(recipe));
    expect(order(moved(recipe, recipe.steps.length - 1, 1))).toEqual(order(recipe));
  });
});

describe('supplies', () => {
  it('are told by their id again', () => {
    const need = needOf({ family: 'foamBordered', widthMm: 100, heightMm: 100 });
    expect(needBehind(need.id)).toEqual(need);
    expect(needBehind('saline')).toMatchObject({ kind: 'saline' });
    expect(needBehind('grandmas-salve')).toBeUndefined();
  });

  it('change language with the person, but not the names somebody typed', () => {
    const state = setView('w1', { drainage: 'light' }, nameOf)(desk(true));
    const [first, ...rest] = state.draft.supplies;
    const draft = { ...state.draft, supplies: [{ ...(first as never as object), name: 'Typed' } as never, ...rest] };
    const names = renamed(draft, nameOf, (need) => `[${need.id}]`).supplies.map((s) => s.name);
    expect(names[0]).toBe('Typed');
    expect(names.slice(1).every((n) => n.startsWith('['))).toBe(true);
  });
});

describe('what is kept of the clinic', () => {
  it('is kept only when it is whole', () => {
    expect(fits(clinic)).toBe(true);
    expect(fits({ ...clinic, phone: 'call me' })).toBe(false);
    expect(fits({ ...clinic, name: '' })).toBe(false);
  });
});

describe('the list of calls on the paper', () => {
  const now = { at: Date.parse('2031-03-04T15:00:00Z'), day: today };
  const lists = callList(demoPlan(), now);

  it('has the emergencies of the rules and nothing twice', () => {
    expect(lists.emergency).toEqual(
      expect.arrayContaining(['unwell:faint', 'footColour:paleOrBlueAndCold', 'bleeding:willNotStop', 'redness:fast']),
    );
    expect(lists.callNow).toEqual(expect.arrayContaining(['pain:severe', 'redness:streaks', 'woundBed:boneOrTendon']));
    expect(lists.callToday).toEqual(expect.arrayContaining(['pain:more', 'odour:newOrStronger', 'edge:newBlisterOrSore']));
    const all = Object.values(lists).flat();
    expect(new Set(all).size).toBe(all.length);
  });

  it('follows a plan that wants to hear earlier', () => {
    const plan = demoPlan();
    const raised = callList({ ...plan, escalation: { raise: { 'new-sore': 'callNow' } } }, now);
    expect(raised.callNow).toContain('edge:newBlisterOrSore');
    expect(raised.callToday).not.toContain('edge:newBlisterOrSore');
  });
});

describe('a plan changed after it was handed over', () => {
  const first = desk(true);
  const handed = handOver(first.draft)(first);
  const edit = (state: DeskState, change: (s: DeskState) => DeskState) => countVersion(change(state));

  it('is the next version, however often it is changed', () => {
    expect(standingOf(first)).toBe('notYet');
    expect(standingOf(handed)).toBe('handed');
    const once = edit(handed, setPerson({ callMe: 'Rosa' }));
    const twice = edit(once, setPerson({ callMe: 'Rosa M.' }));
    expect([once.draft.revision, twice.draft.revision, standingOf(twice)]).toEqual([2, 2, 'changed']);
    // The phone then takes it for an update instead of refusing it.
    const whole = (state: DeskState) => finishDraft(state.draft);
    const [old, next] = [whole(handed), whole(twice)];
    if (!old.ok || !next.ok) throw new Error('no plans');
    expect(planVerdict(old.plan, next.plan)).toBe('update');
    const again = edit(handOver(twice.draft)(twice), setPerson({ callMe: 'Ro' }));
    expect(again.draft.revision).toBe(3);
  });

  it('handed over twice unchanged stays the same version', () => {
    const twice = edit(handed, handOver(handed.draft));
    expect([twice.draft.revision, standingOf(twice)]).toEqual([1, 'handed']);
  });

  it('is the version it was when the change is taken back', () => {
    const there = edit(handed, setPerson({ callMe: 'Rosa' }));
    const back = edit(there, setPerson({ callMe: first.draft.person.callMe }));
    expect([back.draft.revision, standingOf(back)]).toEqual([1, 'handed']);
  });

  it('keeps its version while it was not handed over', () => {
    expect(edit(first, setPerson({ callMe: 'Rosa' })).draft.revision).toBe(1);
  });
});
