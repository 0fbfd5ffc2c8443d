import { useEffect, useState } from 'preact/hooks';
import { dressingOf } from '../care/change/sequence.ts';
import type { StepId } from '../care/change/steps.ts';
import type { Moment } from '../care/escalation/past.ts';
import { type BandGroup, bandGroups, CALL_LEVELS, type CallLevel } from '../care/plan/band-calls.ts';
import { limitsOf } from '../care/plan/limits-of.ts';
import type { Plan, Recipe, Wound } from '../care/plan/plan.ts';
import { localDay } from '../care/schedule/day.ts';
import { drawCode, MODULE_MM_LEAST, QUIET_MODULES } from '../exchange/qr-write.ts';
import { Donts } from '../parts/donts.tsx';
import { Unchecked } from '../parts/unchecked.tsx';
import { withoutMarks } from '../words/bidi.ts';
import { formatClock, formatDay, formatNumber, formatReading, inARow } from '../words/format.ts';
import { apart, directionOf, languageFor, loadAreas, t, words } from '../words/i18n.ts';
import { amountText, dressingName, intervalText, woundName } from '../words/names.ts';
import { stepMeans } from '../words/steps.ts';
import { callList } from './call-list.ts';
import { CodePicture } from './code-picture.tsx';
import { setFooter } from './paper-footer.ts';
import { hoursLines } from './paper-hours.ts';
import { askForPaper, type PaperContent } from './paper-link.ts';
import { ScaleStrip } from './scale-strip.tsx';

/** A module on paper, mm; above the least, because home printers bleed. */
const MODULE_MM = Math.max(0.6, MODULE_MM_LEAST);

/** The take-home page, in the person's language, in a tab of its own. It is filled by the desk that opened it and keeps nothing. */
export function PaperApp() {
  const [content, setContent] = useState<PaperContent | undefined>();
  useEffect(() => {
    askForPaper((next) => {
      const language = languageFor([next.plan.person.language]);
      void words
        .changeLanguage(language)
        .then(() => loadAreas(['common', 'paper', 'plan', 'change', 'check', 'alert']))
        .then(() => {
          document.documentElement.lang = language;
          document.documentElement.dir = directionOf(language);
          document.title = t('paper:title', { name: next.plan.person.callMe });
          setContent(next);
        });
    });
  }, []);
  return content ? <Paper content={content} now={Date.now()} /> : <main class="paper" />;
}

/** The page itself. @param now the clock, ms, for the day it is printed. */
export function Paper({ content: { plan, codes, words: checks, address }, now }: { content: PaperContent; now: number }) {
  const { clinic } = plan;
  const footer = t('paper:footer', { name: plan.person.callMe, revision: plan.revision });
  useEffect(() => setFooter(footer), [footer]);
  const moment: Moment = { at: now, day: localDay(now, clinic.zone) };
  return (
    <main class="paper">
      <div class="paper-bar">
        <button type="button" class="act" onClick={() => window.print()}>
          {t('paper:print')}
        </button>
      </div>
      <header>
        <h1>{t('paper:title', { name: plan.person.callMe })}</h1>
        <p>{t('paper:from', { clinic: clinic.name, day: formatDay(plan.issued, 'short'), revision: plan.revision })}</p>
      </header>
      <Phones plan={plan} />
      <WhenToCall plan={plan} now={moment} />
      <Donts plan={plan} />
      {plan.wounds.map((wound) => (
        <WoundPart key={wound.id} plan={plan} wound={wound} />
      ))}
      {plan.device && (
        <section>
          <h2>{t('plan:device')}</h2>
          <p>{sentences(t(`plan:deviceKind.${plan.device.kind}`), own(plan.device.note))}</p>
        </section>
      )}
      {plan.greeting && <blockquote dir="auto">{plan.greeting}</blockquote>}
      <Dates plan={plan} />
      <ScaleStrip />
      {codes.length > 0 && <CodesPart codes={codes} checks={checks} address={address} />}
      <p class="caution">{t('common:caution')}</p>
      <Unchecked />
    </main>
  );
}

function Phones({ plan: { clinic } }: { plan: Plan }) {
  const numbers = [
    [t('plan:phone'), clinic.phone],
    [t('plan:outOfHoursPhone'), clinic.outOfHoursPhone],
    [t('paper:emergency'), clinic.emergencyNumber],
  ] as const;
  const lines = hoursLines(clinic);
  return (
    <section class="phones">
      <h2>{t('paper:phones')}</h2>
      <dl>
        {numbers.map(
          ([label, number]) =>
            number && (
              <div key={label}>
                <dt>{label}</dt>
                <dd>
                  <bdi>{number}</bdi>
                </dd>
              </div>
            ),
        )}
      </dl>
      {lines.length > 0 && (
        <p class="paper-hours">
          {lines.join(' ')} {t(clinic.outOfHoursPhone ? 'paper:hours.outside' : 'paper:hours.department')}
        </p>
      )}
    </section>
  );
}

/** The list the phone works with, in the phone's own sentences. */
function WhenToCall({ plan, now }: { plan: Plan; now: Moment }) {
  const lists = callList(plan, now);
  const { feverC, raisedC } = limitsOf(plan, plan.wounds[0] as Wound, undefined).thresholds;
  const both = (celsius: number) => `${formatReading(celsius, 'Cel')} (${formatReading((celsius * 9) / 5 + 32, '[degF]')})`;
  // What more than one answer makes: fever with a changed foot, and two signs together.
  const first: Record<CallLevel, string[]> = {
    emergency: [t('alert:help.feverAndFoot')],
    callNow: [t('paper:fever', { reading: both(feverC) }), t('paper:two', { list: t('alert:title.callToday') })],
    callToday: [t('paper:fever', { reading: both(raisedC) })],
  };
  return (
    <section class="when">
      <h2>{t('paper:when')}</h2>
      {CALL_LEVELS.map((level) => (
        <div key={level} class={`when-${level}`}>
          <h3>{t(`alert:title.${level}`)}</h3>
          <ul>
            {[...first[level], ...plan.wounds.flatMap((wound) => amountLines(plan, wound, level)), ...lists[level].map(answerLine)].map(
              (line) => (
                <li key={line}>{line}</li>
              ),
            )}
          </ul>
        </div>
      ))}
      <p>{t('paper:unsure')}</p>
    </section>
  );
}

/** The amounts of drainage of one wound that ask for this call. */
function amountLines(plan: Plan, wound: Wound, level: CallLevel): string[] {
  const groups = bandGroups(plan, wound).filter((g) => g.call === level);
  return (['above', 'call'] as const).flatMap((kind) => {
    const bands = groups.filter((g) => g.above === (kind === 'above')).flatMap((g) => g.bands);
    if (bands.length === 0) return [];
    const line = t(`paper:amount.${kind}`, { amounts: inARow(bands.map((b) => t(`check:drainageAmount.said.${b}`))) });
    return [plan.wounds.length > 1 ? t('paper:sign', { what: woundName(wound), sign: line }) : line];
  });
}

/** Answers that say by themselves what they are about. */
const WHOLE: readonly string[] = ['bleeding:willNotStop'];

/** An answer as the phone words it, behind what it is asked about. */
function answerLine(finding: string): string {
  const [id, code] = finding.split(':');
  const sign = t(`check:${id}.code.${code}`);
  return id === 'unwell' || WHOLE.includes(finding) ? sign : t('paper:sign', { what: t(`check:${id}.short`), sign });
}

function WoundPart({ plan, wound }: { plan: Plan; wound: Wound }) {
  const name = woundName(wound);
  return (
    <section class={plan.wounds.length > 1 ? 'paper-wound' : undefined}>
      <h2>{name}</h2>
      {wound.keepDry && <p class="strong">{t('change:keepDry')}</p>}
      <p>{t(wound.keepDry ? 'paper:beforeDry' : 'paper:before')}</p>
      {bandGroups(plan, wound).map((group) => (
        <div class="paper-recipe" key={group.bands.join()}>
          <h3>{t('paper:recipeOf', { wound: name, amounts: whenText(group) })}</h3>
          <AmountCall group={group} />
          {group.recipe && <RecipePart plan={plan} recipe={group.recipe} />}
        </div>
      ))}
    </section>
  );
}

const whenText = ({ bands }: BandGroup): string =>
  t('plan:whenDrainage', { amounts: bands.map((b) => t(`check:drainageAmount.code.${b}`)).join(' / ') });

/** The call that goes with an amount: beside its recipe, or in place of one. */
function AmountCall({ group: { recipe, call, above } }: { group: BandGroup }) {
  if (!call) return null;
  const kind = recipe ? (above ? 'above' : 'within') : 'cover';
  return <p class="call">{t(`paper:${kind}.${call}`)}</p>;
}

function RecipePart({ plan, recipe }: { plan: Plan; recipe: Recipe }) {
  const how = (step: StepId): (string | undefined)[] => {
    const dressing = dressingOf(step, recipe);
    return [dressing && dressingName(dressing, 'cm'), stepMeans(step, recipe)];
  };
  return (
    <>
      <p class="strong">{t('plan:changeEvery', { every: intervalText(recipe.change) })}</p>
      <ol>
        {recipe.steps.map(({ step, note }) => (
          <li key={step}>
            <strong>{t(`change:step.${step}.title`)}.</strong> {sentences(...how(step), own(note))}
          </li>
        ))}
      </ol>
      {recipe.uses.length > 0 && <p>{t('paper:uses', { items: inARow(recipe.uses.map((u) => amountText(plan, u))) })}</p>}
    </>
  );
}

/** The clinic's own words, which may be in another language than the page. */
const own = (text: string | undefined): string | undefined => text && apart(text);

/** Texts one after the other, each closed with a stop. */
const sentences = (...texts: readonly (string | undefined)[]): string =>
  texts
    .filter((text) => text !== undefined)
    .map((text) => (/[.!?؟…]$/.test(withoutMarks(text)) ? text : `${text}.`))
    .join(' ');

function Dates({ plan }: { plan: Plan }) {
  if (!plan.nextVisit && !plan.reviewBy) return null;
  return (
    <section>
      <h2>{t('plan:visits')}</h2>
      {plan.nextVisit && <p>{t('plan:nextVisit', { day: formatDay(plan.nextVisit.day), time: formatClock(plan.nextVisit.time) })}</p>}
      {plan.reviewBy && <p>{t('plan:reviewBy', { day: formatDay(plan.reviewBy) })}</p>}
    </section>
  );
}

function CodesPart({ codes, checks, address }: { codes: readonly string[]; checks: readonly string[]; address: string }) {
  return (
    <section class="paper-codes">
      <h2>{t('paper:onPhone')}</h2>
      <p>{t(codes.length === 1 ? 'paper:scan' : 'paper:scanAll', { count: codes.length })}</p>
      <p>{t('paper:app', { address })}</p>
      <div class="paper-code-list">
        {codes.map((text, i) => {
          const code = drawCode(text);
          const mm = (code.size + 2 * QUIET_MODULES) * MODULE_MM;
          const label = t('paper:codeOf', { at: i + 1, of: codes.length, size: formatNumber(mm, 0) });
          return (
            <figure key={text}>
              <CodePicture code={code} label={label} size={`${mm}mm`} />
              <figcaption>{label}</figcaption>
            </figure>
          );
        })}
      </div>
      <p>{t('paper:words')}</p>
      <p class="check-words">{checks.join(' · ')}</p>
      <p>{t('paper:health')}</p>
    </section>
  );
}
