import { BANDS, type Band } from '../care/check/questions.ts';
import { type DraftRecipe, draftRecipe } from '../care/plan/draft.ts';
import { type Prompt, type Proposal, proposeForBand } from '../care/plan/proposals.ts';
import { formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { dressingName, intervalText } from '../words/names.ts';
import { useDesk } from './desk-context.ts';
import { setBand, setPlan, setWound, sizeOf, useProposals, viewOf, woundOf } from './desk-state.ts';
import { NumberBox, Pick, Section, TextBox } from './fields.tsx';
import { RecipeEditor } from './recipe-editor.tsx';
import { beginRecipe, type RecipeEdit, sizedFor, withDressing } from './recipe-edits.ts';
import { Source } from './source.tsx';

/** What to do for each amount of drainage: proposed, then as the clinician decides. */
export function RecipesForm() {
  const { state, edit, wound: id, nameOf } = useDesk();
  const wound = woundOf(state, id);
  if (!wound) return null;
  const follows = state.follows.includes(id);
  const [low, high] = wound.expectedDrainage;
  const bandOptions = BANDS.map((band) => [band, t(`clinic:band.${band}`)] as const);
  const rank = (band: Band) => BANDS.indexOf(band);
  return (
    <Section id="recipes" number={2} title={t('clinic:part.recipes')}>
      <div class="follow">
        <p>{t(follows ? 'clinic:recipes.follows' : 'clinic:recipes.byHand')}</p>
        {!follows && (
          <button type="button" class="small" onClick={() => edit(useProposals(id, nameOf))}>
            {t('clinic:recipes.useAll')}
          </button>
        )}
      </div>
      {BANDS.map((band) => (
        <BandPart key={`${id}/${band}`} band={band} />
      ))}
      <div class="f-row">
        <Pick
          label={t('clinic:recipes.expectedLow')}
          value={low}
          options={bandOptions}
          onChange={(v) => {
            const next = v as Band;
            edit(setWound(id, { expectedDrainage: [next, rank(next) > rank(high) ? next : high] }));
          }}
        />
        <Pick
          label={t('clinic:recipes.expectedHigh')}
          hint={t('clinic:recipes.expectedHint')}
          value={high}
          options={bandOptions}
          onChange={(v) => {
            const next = v as Band;
            edit(setWound(id, { expectedDrainage: [rank(next) < rank(low) ? next : low, next] }));
          }}
        />
      </div>
      <Supplies />
    </Section>
  );
}

/** A recipe in one line. */
export function recipeLine(recipe: DraftRecipe): string {
  const dressings = [recipe.primary, recipe.secondary].filter((d) => d !== undefined).map((d) => dressingName(d, 'cm'));
  return [...dressings, intervalText(recipe.change)].join(' + ');
}

function BandPart({ band }: { band: Band }) {
  const { state, edit, wound: id, nameOf } = useDesk();
  const wound = woundOf(state, id);
  if (!wound) return null;
  const view = viewOf(state, id);
  const recipe = draftRecipe(wound, band);
  const change = (next: RecipeEdit) =>
    edit(
      setBand(id, band, (old) => ({ recipe: next(old && 'recipe' in old ? old.recipe : beginRecipe(view, band, sizeOf(wound))) }), nameOf),
    );
  const familyOfItem = (item: string) => state.draft.supplies.find((s) => s.id === item)?.family;
  const use = (p: Proposal) => change((r) => withDressing(r, p.layer, sizedFor(p.family, p.layer, sizeOf(wound)), familyOfItem));
  const proposals = proposeForBand(view, band);
  const isSeen = view.dryGangrene ? band === 'none' : view.drainage === band;
  return (
    <details class={isSeen ? 'band band-seen' : 'band'} open={isSeen}>
      <summary>
        <span class="band-name">{t(`clinic:band.${band}`)}</span>
        <span class="band-line">{recipe ? recipeLine(recipe) : t('clinic:recipes.callUs')}</span>
        {isSeen && <span class="band-mark">{t('clinic:recipes.seen')}</span>}
      </summary>
      <fieldset class="band-inside" aria-label={t(`clinic:band.${band}`)}>
        {proposals.length > 0 && <Proposals proposals={proposals} recipe={recipe} onUse={use} />}
        {recipe ? (
          <>
            <RecipeEditor recipe={recipe} onChange={change} />
            <button type="button" class="small" onClick={() => edit(setBand(id, band, () => ({ callUs: true }), nameOf))}>
              {t('clinic:recipes.makeCall')}
            </button>
          </>
        ) : (
          <button type="button" class="small" onClick={() => change((r) => r)}>
            {t('clinic:recipes.write')}
          </button>
        )}
      </fieldset>
    </details>
  );
}

interface ProposalsProps {
  proposals: readonly Proposal[];
  recipe: DraftRecipe | undefined;
  onUse: (proposal: Proposal) => void;
}

/** What fits this amount, with why and whence. The clinician takes one or leaves it. */
function Proposals({ proposals, recipe, onUse }: ProposalsProps) {
  const reasons = [...new Set(proposals.map((p) => `${p.layer} ${p.why}`))];
  return (
    <div class="proposals">
      {reasons.map((reason) => {
        const own = proposals.filter((p) => `${p.layer} ${p.why}` === reason);
        const { layer, why, source } = own[0] as Proposal & Prompt;
        return (
          <fieldset key={reason} class="proposal" aria-label={t(`clinic:layer.${layer}`)}>
            <p>
              <strong>{t(`clinic:layer.${layer}`)}</strong> {t(`clinic:proposal.${why.slice('proposal.'.length)}`)} <Source rows={source} />
            </p>
            <div class="chips">
              {own.map((p) => {
                const used = recipe?.[p.layer]?.family === p.family;
                const family = t(`common:family.${p.family}`);
                return (
                  <button key={p.family} type="button" class="chip" aria-pressed={used} onClick={() => onUse(p)}>
                    {used ? t('clinic:recipes.used', { family }) : t('clinic:recipes.use', { family })}
                  </button>
                );
              })}
            </div>
          </fieldset>
        );
      })}
    </div>
  );
}

/** What the recipes use, under the names the person reads, and how much is at home. */
function Supplies() {
  const { state, edit } = useDesk();
  const { supplies } = state.draft;
  if (supplies.length === 0) return null;
  const set = (id: string, part: Partial<(typeof supplies)[number]>) =>
    edit(setPlan({ supplies: supplies.map((s) => (s.id === id ? { ...s, ...part } : s)) }));
  return (
    <details class="band">
      <summary>
        <span class="band-name">{t('clinic:supplies.title')}</span>
        <span class="band-line">{t('clinic:supplies.count', { count: supplies.length, number: formatNumber(supplies.length, 0) })}</span>
      </summary>
      <div class="band-inside">
        <p class="f-hint">{t('clinic:supplies.hint')}</p>
        {supplies.map((s) => (
          <fieldset class="f-row supply" aria-label={s.name} key={s.id}>
            <TextBox label={t('clinic:supplies.name')} value={s.name} most={80} onChange={(name) => set(s.id, { name })} />
            <NumberBox label={t('clinic:supplies.pack')} value={s.packOf} onChange={(packOf) => set(s.id, { packOf })} />
            <NumberBox
              label={t('clinic:supplies.home')}
              value={state.onHand[s.id]}
              onChange={(amount) =>
                edit((now) => {
                  const { [s.id]: _old, ...rest } = now.onHand;
                  return { ...now, onHand: amount === undefined ? rest : { ...rest, [s.id]: amount } };
                })
              }
            />
          </fieldset>
        ))}
      </div>
    </details>
  );
}
