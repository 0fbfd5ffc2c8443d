import type {
  BundleEntry,
  QuestionnaireItem,
  QuestionnaireResponse,
  QuestionnaireResponseItem,
  QuestionnaireResponseItemAnswer,
  Reference,
} from 'fhir/r4';
import type { Answers, GlucoseAnswer, TemperatureAnswer, WarmthAnswer, WarmthPair } from '../../care/check/answers.ts';
import { TEMPERATURE_SITES } from '../../care/check/answers.ts';
import { QUESTIONS, type Question, type QuestionScope } from '../../care/check/questions.ts';
import type { ChangeRecord, CheckRecord } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import { SIDES, type Side } from '../../care/plan/plan.ts';
import { CODED_LOOKS, CODES, LOINC, LOINC_NOTICE, ownCoding, quantity, TEMPERATURE_SIGNS } from './codes.ts';
import {
  type Context,
  changedAt,
  entryFor,
  identifierOf,
  listed,
  listOf,
  patientRef,
  plainText,
  recordRef,
  recordUrl,
  statusOf,
  whenOf,
  woundOf,
  writerOf,
} from './context.ts';

/** An answer code with its words. */
const answerCoding = ({ words }: Context, id: Question['id'], code: string, dry = false) =>
  ownCoding(`${id}:${code}`, words.answer(id, id === 'temperature' ? { feelsFeverish: code } : code, { dry }));
const siteCoding = ({ words }: Context, site: string) => ownCoding(`temperature.site:${site}`, words.say(`check:temperature.site.${site}`));
const sideCoding = ({ words }: Context, side: Side) => ownCoding(`side:${side}`, words.say(`common:foot.${side}`));

/** All questions of the check and of the look, with every answer that can be chosen. */
export function questionnaire(ctx: Context): BundleEntry {
  const { say } = ctx.words;
  const url = ctx.form;
  const inScope = (scope: QuestionScope) => QUESTIONS.filter((q) => q.scope === scope).flatMap((q) => askedItems(ctx, q));
  return entryFor(ctx, url, {
    resourceType: 'Questionnaire',
    url,
    identifier: [identifierOf(url)],
    title: say('handOver:file.questions'),
    status: 'active',
    subjectType: ['Patient'],
    copyright: LOINC_NOTICE,
    item: [
      { linkId: 'when', type: 'dateTime' },
      ...inScope('person'),
      {
        linkId: 'foot',
        type: 'group',
        repeats: true,
        item: [
          { linkId: 'foot.side', type: 'choice', answerOption: SIDES.map((side) => ({ valueCoding: sideCoding(ctx, side) })) },
          ...inScope('foot'),
        ],
      },
      { linkId: 'wound', type: 'group', repeats: true, item: [{ linkId: 'wound.id', type: 'string' }, ...inScope('wound')] },
    ],
  });
}

function askedItems(ctx: Context, q: Question): QuestionnaireItem[] {
  const text = ctx.words.ask(q.id, false);
  const coded = CODED_LOOKS.find((id) => id === q.id);
  const options = [...q.codes, 'unsure'].map((code) => ({ valueCoding: answerCoding(ctx, q.id, code) }));
  switch (q.kind) {
    case 'temperature':
      return [
        {
          linkId: q.id,
          text,
          type: 'quantity',
          repeats: true,
          item: [
            {
              linkId: `${q.id}.site`,
              text: ctx.words.say('check:temperature.where'),
              type: 'choice',
              answerOption: TEMPERATURE_SITES.map((site) => ({ valueCoding: siteCoding(ctx, site) })),
            },
          ],
        },
        { linkId: `${q.id}.feelsFeverish`, text: ctx.words.say('check:temperature.feelAsk'), type: 'choice', answerOption: options },
      ];
    case 'warmth':
      return [
        { linkId: q.id, text, type: 'choice', answerOption: options },
        {
          linkId: `${q.id}.pair`,
          text: ctx.words.say('check:warmth.measure'),
          type: 'group',
          repeats: true,
          item: [
            { linkId: `${q.id}.site`, type: 'string' },
            { linkId: `${q.id}.woundSide`, text: ctx.words.say('check:warmth.woundSide'), type: 'quantity' },
            { linkId: `${q.id}.otherSide`, text: ctx.words.say('check:warmth.otherSide'), type: 'quantity' },
          ],
        },
      ];
    case 'glucose':
      return [{ linkId: q.id, text, type: 'quantity' }];
    case 'words':
      return [{ linkId: q.id, text, type: 'text' }];
    default:
      return [
        {
          linkId: q.id,
          text,
          type: 'choice',
          ...(coded ? { code: [{ system: LOINC, code: CODES[coded][0], display: CODES[coded][1] }] } : {}),
          ...(q.kind === 'manyOf' ? { repeats: true } : {}),
          answerOption: options,
        },
      ];
  }
}

/** The answers of one record, sorted as the form has them. A foot has no side where the plan that knows it is not here. */
interface Parts {
  person: Answers;
  feet: readonly { side: Side | undefined; answers: Answers }[];
  wounds: Record<string, Answers>;
}

/** The answers of a daily check as a filled-in form. */
export function checkResponse(ctx: Context, entry: Entry<CheckRecord>): BundleEntry {
  const { person, feet, wounds } = entry.now;
  const answered = SIDES.flatMap((side) => listOf(feet[side]).map((answers) => ({ side, answers })));
  return response(ctx, entry, { person, feet: answered, wounds }, {});
}

/** The answers of the look during a change; undefined when nobody looked. */
export function lookResponse(ctx: Context, entry: Entry<ChangeRecord>): BundleEntry | undefined {
  const { answers, wound: id } = entry.now;
  if (!answers || Object.keys(answers).length === 0) return undefined;
  const scoped = (scope: QuestionScope): Answers =>
    Object.fromEntries(QUESTIONS.filter((q) => q.scope === scope && answers[q.id] !== undefined).map((q) => [q.id, answers[q.id]]));
  const foot = scoped('foot');
  const feet = Object.keys(foot).length > 0 ? [{ side: woundOf(ctx, entry.now, id)?.side, answers: foot }] : [];
  const parts: Parts = { person: scoped('person'), feet, wounds: { [id]: scoped('wound') } };
  return response(ctx, entry, parts, { partOf: [recordRef(ctx, entry.first.id)] }, 'look');
}

function response(
  ctx: Context,
  entry: Entry<CheckRecord | ChangeRecord>,
  parts: Parts,
  more: { partOf?: Reference[] },
  ...path: string[]
): BundleEntry {
  const url = recordUrl(ctx, entry.first.id, ...path);
  const { now } = entry;
  const resource: QuestionnaireResponse = {
    resourceType: 'QuestionnaireResponse',
    identifier: identifierOf(url),
    ...more,
    questionnaire: ctx.form,
    status: statusOf(entry, 'completed'),
    subject: patientRef(ctx),
    authored: changedAt(entry),
    author: writerOf(ctx, now),
    source: writerOf(ctx, entry.first),
    item: [
      { linkId: 'when', answer: [{ valueDateTime: whenOf(entry) }] },
      ...answeredItems(ctx, parts.person),
      ...parts.feet.map(({ side, answers }): QuestionnaireResponseItem => {
        const which = side ? [{ linkId: 'foot.side', answer: [{ valueCoding: sideCoding(ctx, side) }] }] : [];
        const text = side ? { text: ctx.words.say(`common:foot.${side}`) } : {};
        return { linkId: 'foot', ...text, ...listed('item', [...which, ...answeredItems(ctx, answers)]) };
      }),
      ...Object.entries(parts.wounds).map(([id, answers]): QuestionnaireResponseItem => {
        const wound = woundOf(ctx, now, id);
        return {
          linkId: 'wound',
          text: wound ? ctx.words.wound(wound) : ctx.words.say('log:otherWound'),
          item: [{ linkId: 'wound.id', answer: [{ valueString: id }] }, ...answeredItems(ctx, answers, wound?.keepDry)],
        };
      }),
    ],
  };
  return entryFor(ctx, url, resource);
}

function answeredItems(ctx: Context, answers: Answers, dry = false): QuestionnaireResponseItem[] {
  return QUESTIONS.flatMap((q): QuestionnaireResponseItem[] => {
    const given: unknown = answers[q.id];
    if (given === undefined) return [];
    const text = ctx.words.ask(q.id, dry);
    switch (q.kind) {
      case 'temperature':
        return [temperatureItem(ctx, given as TemperatureAnswer)];
      case 'warmth':
        return warmthItems(ctx, given as WarmthAnswer);
      case 'glucose': {
        const { value, unit } = given as GlucoseAnswer;
        return [{ linkId: q.id, text, answer: [{ valueQuantity: quantity(value, unit) }] }];
      }
      case 'words':
        return listOf(plainText(given as string)).map((words) => ({ linkId: q.id, text, answer: [{ valueString: words }] }));
      default: {
        const codes = Array.isArray(given) ? (given as string[]) : [given as string];
        return [{ linkId: q.id, text, answer: codes.map((code) => ({ valueCoding: answerCoding(ctx, q.id, code, dry) })) }];
      }
    }
  });
}

function temperatureItem(ctx: Context, given: TemperatureAnswer): QuestionnaireResponseItem {
  const { say } = ctx.words;
  if ('feelsFeverish' in given) {
    const answer = [{ valueCoding: answerCoding(ctx, 'temperature', given.feelsFeverish) }];
    return { linkId: 'temperature.feelsFeverish', text: say('check:temperature.feelAsk'), answer };
  }
  const { value, again, unit, site } = given;
  const where = site && [
    { linkId: 'temperature.site', text: say('check:temperature.where'), answer: [{ valueCoding: siteCoding(ctx, site) }] },
  ];
  return {
    linkId: 'temperature',
    text: ctx.words.ask('temperature', false),
    answer: [value, again]
      .filter((reading) => reading !== undefined)
      .map(
        (reading): QuestionnaireResponseItemAnswer => ({
          valueQuantity: quantity(reading, unit, TEMPERATURE_SIGNS[unit]),
          ...listed('item', where ?? []),
        }),
      ),
  };
}

function warmthItems(ctx: Context, given: WarmthAnswer): QuestionnaireResponseItem[] {
  const { say } = ctx.words;
  const feel = (code: string): QuestionnaireResponseItem => ({
    linkId: 'warmth',
    text: ctx.words.ask('warmth', false),
    answer: [{ valueCoding: answerCoding(ctx, 'warmth', code) }],
  });
  if (typeof given === 'string') return [feel(given)];
  const side = (pair: WarmthPair, which: 'woundSide' | 'otherSide'): QuestionnaireResponseItem => ({
    linkId: `warmth.${which}`,
    text: say(`check:warmth.${which}`),
    answer: [{ valueQuantity: quantity(pair[which], pair.unit ?? 'Cel', TEMPERATURE_SIGNS[pair.unit ?? 'Cel']) }],
  });
  return [
    ...(given.feel === undefined ? [] : [feel(given.feel)]),
    ...given.pairs.map((pair) => ({
      linkId: 'warmth.pair',
      text: say('check:warmth.measure'),
      item: [{ linkId: 'warmth.site', answer: [{ valueString: pair.site }] }, side(pair, 'woundSide'), side(pair, 'otherSide')],
    })),
  ];
}
