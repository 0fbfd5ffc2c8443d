// @vitest-environment happy-dom
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import { stepsAfterLook, stepsToLook } from '../../app/care/change/sequence.ts';
import type { StepId } from '../../app/care/change/steps.ts';
import { lookQuestions } from '../../app/care/check/items.ts';
import { type Recipe, recipeFor, type Wound } from '../../app/care/plan/plan.ts';
import { Look } from '../../app/screens/change/look.tsx';
import { Step } from '../../app/screens/change/step.tsx';
import type { ChangeDraft } from '../../app/store/drafts.ts';
import { t } from '../../app/words/i18n.ts';
import { demoPlan, twoWoundPlan, woundOf } from '../care/plan/plans.ts';
import { type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const draftOf = (wound: Wound, more: Partial<ChangeDraft> = {}): ChangeDraft => ({
  id: 'd',
  startedAt: '2031-03-04T15:00:00.000Z',
  wound: wound.id,
  check: 'c',
  position: 0,
  look: 0,
  answers: {},
  path: undefined,
  interrupted: undefined,
  alert: undefined,
  gathered: [],
  states: {},
  ...more,
});

const nothing = (): void => undefined;
const shared = { busy: false, failed: false, at: 1, of: 2, onBack: nothing, onStop: nothing };

interface Shown {
  onGather?: (gathered: string[]) => void;
  gathered?: string[];
}

/** One step of a change on screen, with the recipe for the driest amount. */
function showStep({ show }: Stage, wound: Wound, step: StepId, { onGather = nothing, gathered = [] }: Shown = {}): HTMLElement {
  show(
    <Step
      {...shared}
      wound={wound}
      draft={draftOf(wound, { gathered })}
      current={{ step }}
      short={false}
      recipeBand={step === 'gather' ? undefined : 'none'}
      last={false}
      onGather={onGather}
      onDone={nothing}
    />,
  );
  return screen.getByRole('main');
}

/** The look on screen: its first page, or one of its questions. */
function showLook({ show }: Stage, wound: Wound, look: number): HTMLElement {
  show(<Look {...shared} wound={wound} draft={draftOf(wound, { look })} onSkipIntro={nothing} onAnswer={nothing} onNext={nothing} />);
  return screen.getByRole('main');
}

const ownRecipe = (part: Partial<Recipe>): Wound => {
  const wound = woundOf(demoPlan());
  const recipe = { ...(recipeFor(wound, 'none') as Recipe), ...part };
  return { ...wound, bands: { ...wound.bands, none: { recipe } } };
};

describe('a wound that must stay dry', () => {
  const plan = twoWoundPlan();
  const dry = woundOf(plan, 'w2');

  test('no step and no page of its look speaks of rinsing, water to use or gel', async () => {
    const all = await stage({ plan });
    const texts = [
      ...[...stepsToLook(dry), ...stepsAfterLook(dry, 'none').steps]
        .filter(({ step }) => step !== 'look')
        .map(({ step }) => showStep(all, dry, step).textContent ?? ''),
      ...[0, ...lookQuestions().map((_, i) => i + 1)].map((look) => showLook(all, dry, look).textContent ?? ''),
    ];
    expect(texts.length).toBeGreaterThan(lookQuestions().length + 5);
    for (const text of texts) expect(text).not.toMatch(/rinse|saline|boiled|\bgel\b/i);
    // What it says of wetting is not to do it.
    const wetting = texts.flatMap((text) => text.match(/[^.?]*\bwet it\b[^.?]*/gi) ?? []);
    expect(wetting.length).toBeGreaterThan(0);
    for (const sentence of wetting) expect(sentence).toMatch(/do not/i);
  });

  test('the question about the smell has its own words, in the title too', async () => {
    const all = await stage({ plan });
    const odour = lookQuestions().findIndex((q) => q.id === 'odour') + 1;
    showLook(all, dry, odour);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('check:odour.askDry'));
    showLook(all, woundOf(plan), odour);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('check:odour.ask'));
  });
});

describe('laying out', () => {
  test('says that not all may be needed, and lists what only the other amounts need apart', async () => {
    const wound = woundOf(demoPlan());
    const told: string[][] = [];
    const all = await stage();
    const main = showStep(all, wound, 'gather', { gathered: ['foam'], onGather: (g) => told.push(g) });
    expect(within(main).getByText(t('change:mayNotNeed'))).toBeTruthy();
    const first = within(main).getByRole('group', { name: t('change:step.gather.title') });
    expect(within(first).queryByLabelText(/hydrogel/i)).toBeNull();
    const near = within(main).getByRole('group', { name: t('change:keepNear') });
    expect(within(near).getAllByRole('checkbox')).toHaveLength(1);
    await all.user.click(within(near).getByLabelText(/hydrogel/i));
    expect(told).toEqual([['foam', 'hydrogel']]);
  });

  test('has no second list where there is nothing for it', async () => {
    const plan = twoWoundPlan();
    const main = showStep(await stage({ plan }), woundOf(plan, 'w2'), 'gather');
    expect(within(main).queryByRole('group', { name: t('change:keepNear') })).toBeNull();
  });
});

describe('holding it in place', () => {
  test('a sticky border is smoothed down, with no word of a finger under it', async () => {
    const main = showStep(await stage(), ownRecipe({ fixation: 'adhesiveBorder' }), 'fix');
    expect(within(main).getAllByText(t('change:fixation.adhesiveBorder'))).toHaveLength(1);
    expect(main.textContent).not.toContain(t('change:step.fix.text'));
  });

  test('a bandage is held firm but never tight', async () => {
    const main = showStep(await stage(), ownRecipe({ fixation: 'rollBandage' }), 'fix');
    expect(within(main).getByText(t('change:step.fix.text'))).toBeTruthy();
    expect(within(main).getByText(t('change:fixation.rollBandage'))).toBeTruthy();
  });
});

describe('covering', () => {
  test('without a first layer it goes over the wound, with one over that layer', async () => {
    const all = await stage();
    const alone = showStep(all, ownRecipe({ primary: undefined, secondary: { family: 'foamBordered' } }), 'secondary');
    expect(within(alone).getByText(t('change:secondaryOnly'))).toBeTruthy();
    const both = showStep(all, ownRecipe({ primary: { family: 'hydrogel' }, secondary: { family: 'foam' } }), 'secondary');
    expect(within(both).getByText(t('change:step.secondary.text'))).toBeTruthy();
  });
});

describe('the clinic speaks first', () => {
  test('its note stands before the words of the app', async () => {
    const { show } = await stage();
    const wound = woundOf(demoPlan());
    const current = stepsAfterLook(wound, 'light').steps.find((s) => s.step === 'primary');
    if (!current?.note) throw new Error('the demo has no note here');
    show(
      <Step
        {...shared}
        wound={wound}
        draft={draftOf(wound)}
        current={current}
        short={false}
        recipeBand="light"
        last={false}
        onGather={nothing}
        onDone={nothing}
      />,
    );
    const text = screen.getByRole('main').textContent ?? '';
    expect(text.indexOf(current.note)).toBeGreaterThan(-1);
    expect(text.indexOf(current.note)).toBeLessThan(text.indexOf(t('change:how.collagenSheet')));
  });
});

describe('what may go wrong', () => {
  test('a dressing that sticks is spoken of before the picture takes the room', async () => {
    const main = showStep(await stage(), woundOf(demoPlan()), 'remove');
    const warning = within(main).getByText(t('change:stuck'));
    const picture = main.querySelector('.drawing') as Element;
    expect(warning.compareDocumentPosition(picture) & Node.DOCUMENT_POSITION_FOLLOWING).toBeTruthy();
  });
});

describe('pictures of holding', () => {
  const picture = (main: HTMLElement): string => main.querySelector<HTMLElement>('.drawing')?.style.maskImage ?? '';

  test('no bandage is wound in the picture of a dressing that holds itself', async () => {
    const all = await stage();
    const bandage = picture(showStep(all, ownRecipe({ fixation: 'rollBandage' }), 'fix'));
    const border = picture(showStep(all, ownRecipe({ fixation: 'adhesiveBorder' }), 'fix'));
    expect(bandage).toMatch(/^url/);
    expect(border).toMatch(/^url/);
    expect(border).not.toBe(bandage);
  });
});

describe('scissors', () => {
  test('are laid out where a layer has to be cut, and only there', async () => {
    const all = await stage({ plan: twoWoundPlan() });
    expect(within(showStep(all, woundOf(demoPlan()), 'gather')).getByText(t('change:scissors'))).toBeTruthy();
    expect(within(showStep(all, woundOf(twoWoundPlan(), 'w2'), 'gather')).queryByText(t('change:scissors'))).toBeNull();
  });
});
