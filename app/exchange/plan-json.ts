import { type Plan, type PlanFault, readPlan } from '../care/plan/plan.ts';

/** What a plan is wrapped in, signed or not: `{ "tendbook": "plan", "plan": … }`. */
const ENVELOPE = 'plan';
/** A signed plan as the digits of a QR code; see envelope.ts. */
export const SIGNED_DIGITS = /^s([1-9]\d{100,})$/;
/** Longer texts are no plan; this stops a paste of something huge before it is looked at. */
export const TEXT_MOST = 400_000;

export type PlanRefusal = { ok: false; why: 'notAPlan' | 'damaged' | 'newerVersion' } | { ok: false; why: 'faults'; faults: PlanFault[] };

/** Anything as JSON, or undefined. */
export function parseJson(json: string): unknown {
  try {
    return JSON.parse(json) as unknown;
  } catch {
    return undefined;
  }
}

/** The fields of a JSON object of any origin; undefined for anything else. */
export const fieldsOf = (content: unknown): Readonly<Record<string, unknown>> | undefined =>
  typeof content === 'object' && content !== null && !Array.isArray(content) ? (content as Record<string, unknown>) : undefined;

/** An own field only, so that a prototype never lends one. */
export const field = (fields: Readonly<Record<string, unknown>> | undefined, name: string): unknown =>
  fields && Object.hasOwn(fields, name) ? fields[name] : undefined;

export const planToJson = (plan: Plan, indent?: number): string => JSON.stringify({ tendbook: ENVELOPE, plan }, null, indent);

/** Reads the JSON of a plan. Never throws; a fault is told, nothing is repaired. */
export function planFromJson(json: string): { ok: true; plan: Plan } | PlanRefusal {
  const content = parseJson(json);
  if (content === undefined) return { ok: false, why: 'damaged' };
  const envelope = fieldsOf(content);
  if (field(envelope, 'tendbook') !== ENVELOPE) return { ok: false, why: 'notAPlan' };
  const reading = readPlan(field(envelope, 'plan'));
  if (reading.ok) return { ok: true, plan: reading.plan };
  if (reading.faults.some((f) => f.fault === 'newerVersion')) return { ok: false, why: 'newerVersion' };
  return { ok: false, why: 'faults', faults: reading.faults };
}
