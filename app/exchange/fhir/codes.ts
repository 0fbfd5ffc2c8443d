import type { CodeableConcept, Coding, Quantity } from 'fhir/r4';
import type { QuestionId } from '../../care/check/questions.ts';

export const LOINC = 'http://loinc.org';
export const UCUM = 'http://unitsofmeasure.org';
/** For identifiers that are URIs themselves. */
export const URI = 'urn:ietf:rfc:3986';

/** The space in which every UUID of an export is named. */
export const UUID_SPACE = '6bdbcbf8-189b-42a9-9b37-0fa679cb5777';
/** The app's own codes: the questions (`pain`) and their answers (`pain:more`). A URN, because the app owns no address. */
export const OWN_CODES = 'urn:uuid:1cc19989-0791-4c4e-8ad7-8b048c4b0e3c';
/** Ids that a clinic gave in its plan: of the person, the plan, a wound, an item. */
export const PLAN_IDS = 'urn:uuid:b3c521fe-816a-42c2-ac83-c744a60ff494';

/** Asked for by the license of LOINC wherever its codes are passed on (loinc.org/license). */
export const LOINC_NOTICE =
  'This material contains content from LOINC (http://loinc.org). LOINC is copyright © Regenstrief Institute, Inc. and the Logical ' +
  'Observation Identifiers Names and Codes (LOINC) Committee and is available at no cost under the license at ' +
  'http://loinc.org/license. LOINC® is a registered United States trademark of Regenstrief Institute, Inc.';

/**
 * Codes as the HL7 guide "Lower Extremity Skin Wound Assessment" (FHIR R4)
 * uses them [EV-FHR-01]; the others as their own code pages name them
 * [EV-FHR-02]. Pain has none: the scales of LOINC are numbers from 0 to 10, and
 * nobody gave a number here. SNOMED CT is left out: it needs a license in many
 * countries.
 */
export const CODES = {
  woundSize: ['72287-6', 'Wound size panel'],
  length: ['39126-8', 'Length of Wound'],
  width: ['39125-0', 'Width of Wound'],
  depth: ['39127-6', 'Depth of Wound'],
  area: ['89260-4', 'Area of wound'],
  bodyTemperature: ['8310-5', 'Body temperature'],
  skinTemperature: ['61008-9', 'Body surface temperature'],
  'mg/dL': ['41653-7', 'Glucose [Mass/volume] in Capillary blood by Glucometer'],
  'mmol/L': ['14743-9', 'Glucose [Moles/volume] in Capillary blood by Glucometer'],
  drainageAmount: ['39116-9', 'Drainage amount of Wound'],
  drainageColour: ['72289-2', 'Color of Exudate from wound'],
  odour: ['72288-4', 'Odor of Exudate from wound'],
  redness: ['72301-5', 'Description of Periwound'],
  woundBed: ['72371-8', 'Appearance of Wound base'],
  edge: ['72304-9', 'Edge of wound description'],
} as const satisfies Record<string, readonly [code: string, display: string]>;
export type CodeName = keyof typeof CODES;

/** Questions whose answer is a coded observation of the wound. */
export const CODED_LOOKS = [
  'drainageAmount',
  'drainageColour',
  'odour',
  'redness',
  'woundBed',
  'edge',
] as const satisfies readonly (QuestionId & CodeName)[];

/** A code of LOINC with the words of the log beside it. */
export function loinc(name: CodeName, text?: string): CodeableConcept {
  const [code, display] = CODES[name];
  return { coding: [{ system: LOINC, code, display }], ...(text === undefined ? {} : { text }) };
}

export const ownCoding = (code: string, display?: string): Coding => ({
  system: OWN_CODES,
  code,
  ...(display === undefined ? {} : { display }),
});

/** A concept that no standard names: words, and the app's own code for machines. */
export const own = (code: string, text: string): CodeableConcept => ({ coding: [ownCoding(code)], text });

/** An amount in a unit of UCUM. @param unit as people read it, where that differs from the code. */
export const quantity = (value: number, code: string, unit: string = code): Quantity => ({ value, unit, system: UCUM, code });

/** `Cel` and `[degF]` as people read them. */
export const TEMPERATURE_SIGNS = { Cel: '°C', '[degF]': '°F' } as const;

export const category = (code: 'vital-signs' | 'exam' | 'survey' | 'laboratory'): CodeableConcept[] => [
  { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/observation-category', code }] },
];

/** The person was asked and was not sure. */
export const NOT_SURE = 'asked-unknown';
/** There is no value, and the record does not say why. */
export const UNKNOWN = 'unknown';
export const absent = (code: typeof NOT_SURE | typeof UNKNOWN, text?: string): CodeableConcept => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code }],
  ...(text === undefined ? {} : { text }),
});
