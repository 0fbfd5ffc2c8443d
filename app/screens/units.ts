import type { GlucoseUnit, TemperatureUnit } from '../care/check/answers.ts';
import type { NotebookState } from '../store/notebook.ts';
import { regionInUse } from './region.ts';

export interface Units {
  temperature: TemperatureUnit;
  glucose: GlucoseUnit;
  length: 'cm' | 'in';
}

/** Regions (ISO 3166-1 alpha-2) whose thermometers are marked in °F and rulers in inches: the USA and its territories, and a few others. From memory. */
const FAHRENHEIT = new Set('US AS GU MP PR UM VI BS BZ FM KY LR MH PW'.split(' '));

/** Regions whose laboratories and meters give blood sugar in mmol/L; elsewhere it is mg/dL. From memory. */
const MILLIMOLES = new Set(
  'GB GG IE IM JE CA AU NZ NL SE NO DK FI FO GL IS CH CN HK MY SG VN ZA BA BG BY CZ EE HR HU KZ LT LV ME MK MT RU SI SK UA'.split(' '),
);

/** The units of a region; °C, mg/dL and cm where it is not known. */
export function unitsIn(region: string | undefined): Units {
  const code = region?.toUpperCase() ?? '';
  const fahrenheit = FAHRENHEIT.has(code);
  return {
    temperature: fahrenheit ? '[degF]' : 'Cel',
    glucose: MILLIMOLES.has(code) ? 'mmol/L' : 'mg/dL',
    length: fahrenheit ? 'in' : 'cm',
  };
}

/** The units to ask and show in: each one as chosen in the settings, else as in the region. */
export function unitsOf(state: NotebookState): Units {
  const { temperatureUnit, glucoseUnit, lengthUnit } = state.settings;
  const usual = unitsIn(regionInUse(state));
  return {
    temperature: temperatureUnit ?? usual.temperature,
    glucose: glucoseUnit ?? usual.glucose,
    length: lengthUnit ?? usual.length,
  };
}
