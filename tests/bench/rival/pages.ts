import { TEMPERATURE_SITES, TEMPERATURE_UNITS } from '../../../app/care/check/answers.ts';
import { checkItems } from '../../../app/care/check/items.ts';
import type { Question } from '../../../app/care/check/questions.ts';
import words from '../../../locales/en/check.json' with { type: 'json' };
import { plan } from '../made.ts';

/** One page of the form: what it asks, as JSON schema and as the form library's hints for showing it. */
export interface FormPage {
  ask: string;
  schema: object;
  uiSchema: object;
}

type Asked = { ask: string; look?: string; code?: Record<string, string> };
const wordsOf = ({ id }: Question): Asked => (words as unknown as Record<string, Asked>)[id] as Asked;

/** The words of an answer code. */
export const answerWords = (question: Question, code: string): string =>
  code === 'unsure' ? words.unsure : (wordsOf(question).code?.[code] ?? code);

const choices = (question: Question): object[] =>
  [...question.codes, 'unsure'].map((code) => ({ const: code, title: answerWords(question, code) }));

const unitSigns = { Cel: '°C', '[degF]': '°F' };
const siteWords: Record<string, string> = words.temperature.site;

function answerOf(question: Question): { schema: object; ui: object } {
  if (question.kind === 'manyOf') {
    const items = { type: 'string', oneOf: choices(question) };
    return { schema: { type: 'array', minItems: 1, uniqueItems: true, items }, ui: { 'ui:widget': 'checkboxes', 'ui:label': false } };
  }
  if (question.kind === 'words') return { schema: { type: 'string' }, ui: { 'ui:widget': 'textarea', 'ui:label': false } };
  return { schema: { type: 'string', oneOf: choices(question) }, ui: { 'ui:widget': 'radio', 'ui:label': false } };
}

function temperature(): { properties: object; uiSchema: object; required: string[] } {
  return {
    properties: {
      value: { type: 'number', title: words.temperature.field, minimum: 30, maximum: 113 },
      site: {
        type: 'string',
        title: words.temperature.where,
        oneOf: TEMPERATURE_SITES.map((site) => ({ const: site, title: siteWords[site] })),
      },
      unit: {
        type: 'string',
        title: words.temperature.unit,
        default: '[degF]',
        oneOf: TEMPERATURE_UNITS.map((unit) => ({ const: unit, title: unitSigns[unit] })),
      },
    },
    uiSchema: { site: { 'ui:widget': 'radio' }, unit: { 'ui:widget': 'radio' } },
    required: ['value', 'site', 'unit'],
  };
}

/** The pages of the demo plan's daily check, one question each, in its order and its words. */
export function formPages(): FormPage[] {
  return checkItems(plan).map(({ question }): FormPage => {
    const { ask, look } = wordsOf(question);
    const whole = { type: 'object', ...(look ? { description: look } : {}) };
    if (question.kind === 'temperature') {
      const { properties, uiSchema, required } = temperature();
      return { ask, schema: { ...whole, properties, required }, uiSchema };
    }
    const { schema, ui } = answerOf(question);
    const required = question.kind === 'words' ? [] : ['answer'];
    return { ask, schema: { ...whole, properties: { answer: schema }, required }, uiSchema: { answer: ui } };
  });
}
