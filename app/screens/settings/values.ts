import type { TemperatureUnit } from '../../care/check/answers.ts';
import type { Settings } from '../../store/book.ts';
import type { NotebookState } from '../../store/notebook.ts';
import { inARow, unitSign } from '../../words/format.ts';
import { apart, LANGUAGES, t, words } from '../../words/i18n.ts';
import { type Units, unitsOf } from '../units.ts';

/** The settings as the list shows them, what goes together in one group. */
export const GROUPS = [['language', 'who'], ['textSize', 'scheme', 'readAloud', 'wideNext'], ['units']] as const;
export type SettingName = (typeof GROUPS)[number][number];

export const isSetting = (name: string): name is SettingName => (GROUPS.flat() as string[]).includes(name);

const yesNo = (isOn: boolean): 'yes' | 'no' => (isOn ? 'yes' : 'no');

/** What can be chosen on a page of its own, with the value in use. */
export interface Question {
  key: keyof Settings;
  values: readonly string[];
  label: (value: string) => string;
  chosen: string;
}

export const unitQuestions = (units: Units): readonly Question[] => [
  { key: 'temperatureUnit', values: ['Cel', '[degF]'], label: (v) => unitSign(v as TemperatureUnit), chosen: units.temperature },
  { key: 'glucoseUnit', values: ['mg/dL', 'mmol/L'], label: (v) => v, chosen: units.glucose },
  { key: 'lengthUnit', values: ['cm', 'in'], label: (v) => t(`settings:length.${v}`), chosen: units.length },
];

/** The questions of one page. The language is none of them: it is chosen before it can be read. */
export function questionsOf(name: Exclude<SettingName, 'language'>, state: NotebookState): readonly Question[] {
  const { settings } = state;
  switch (name) {
    case 'who':
      return [{ key: 'who', values: ['patient', 'caregiver'], label: (v) => t(`settings:whoIs.${v}`), chosen: settings.who }];
    case 'textSize':
      return [
        { key: 'textSize', values: ['normal', 'large', 'largest'], label: (v) => t(`settings:size.${v}`), chosen: settings.textSize },
      ];
    case 'scheme':
      return [{ key: 'scheme', values: ['auto', 'light', 'dark'], label: (v) => t(`settings:schemeIs.${v}`), chosen: settings.scheme }];
    case 'readAloud':
    case 'wideNext':
      return [{ key: name, values: ['no', 'yes'], label: (v) => t(`settings:${name}Is.${v}`), chosen: yesNo(settings[name]) }];
    case 'units':
      return unitQuestions(unitsOf(state));
  }
}

/** What is chosen, in a word or two for the list. */
export function chosenOf(name: SettingName, state: NotebookState): string {
  if (name === 'language') return LANGUAGES[words.language as keyof typeof LANGUAGES] ?? words.language;
  const chosen = questionsOf(name, state).map((q) => q.label(q.chosen));
  return inARow(name === 'who' && state.settings.name ? [...chosen, apart(state.settings.name)] : chosen);
}
