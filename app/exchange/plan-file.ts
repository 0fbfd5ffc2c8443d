import { type Plan, type PlanFault, readPlan } from '../care/plan/plan.ts';
import { fromBase64Url, seal, toBase64Url, unseal } from './bytes.ts';

/**
 * A plan on its way to the phone, as text.
 *
 * - In a link or on paper: `1.` and the base64url of raw-deflated JSON with
 *   the CRC-32 of the JSON behind it, most significant byte first. The leading
 *   number leaves room for other envelopes, a signed one for instance.
 * - In a file: the JSON itself, readable.
 *
 * Both hold `{ "tendbook": "plan", "plan": … }`.
 */
const ENVELOPE = 'plan';
const PACKED = '1.';
/** Longer texts are no plan; this stops a paste of something huge before it is looked at. */
export const TEXT_MOST = 400_000;

export type PlanArrival =
  | { ok: true; plan: Plan }
  | { ok: false; why: 'nothing' | 'tooLong' | 'notAPlan' | 'damaged' | 'newerVersion' }
  | { ok: false; why: 'faults'; faults: PlanFault[] };

const wrap = (plan: Plan): string => JSON.stringify({ tendbook: ENVELOPE, plan });

/** The plan as the text that follows `#plan=` in a link. */
export const planToCode = (plan: Plan): string => PACKED + toBase64Url(seal(wrap(plan)));

/** The plan as a readable file. */
export const planToFile = (plan: Plan): string => `${JSON.stringify({ tendbook: ENVELOPE, plan }, null, 2)}\n`;

/** The link that opens this plan in the app at `address`. */
export const planToLink = (plan: Plan, address: string): string => `${address.replace(/#.*$/, '')}#plan=${planToCode(plan)}`;

/**
 * Reads a plan from whatever was pasted or opened: a link, the code in it, or
 * the content of a file. Never throws; a fault is told, nothing is repaired.
 */
export function planFromText(text: string): PlanArrival {
  const trimmed = text.trim();
  if (trimmed === '') return { ok: false, why: 'nothing' };
  if (trimmed.length > TEXT_MOST) return { ok: false, why: 'tooLong' };
  if (trimmed.startsWith('{')) return fromJson(trimmed);
  const inLink = /#plan=([^#\s]+)/.exec(trimmed)?.[1] ?? trimmed.replace(/\s+/g, '');
  const version = /^(\d+)\./.exec(inLink)?.[1];
  if (version === undefined) return { ok: false, why: 'notAPlan' };
  if (!inLink.startsWith(PACKED)) return { ok: false, why: 'newerVersion' };
  const bytes = fromBase64Url(inLink.slice(PACKED.length));
  const json = bytes && unseal(bytes);
  return json === undefined ? { ok: false, why: 'damaged' } : fromJson(json);
}

function fromJson(json: string): PlanArrival {
  let content: unknown;
  try {
    content = JSON.parse(json);
  } catch {
    return { ok: false, why: 'damaged' };
  }
  const envelope = content as { tendbook?: unknown; plan?: unknown } | null;
  if (typeof envelope !== 'object' || envelope === null || envelope.tendbook !== ENVELOPE) return { ok: false, why: 'notAPlan' };
  const reading = readPlan(envelope.plan);
  if (reading.ok) return { ok: true, plan: reading.plan };
  if (reading.faults.some((f) => f.fault === 'newerVersion')) return { ok: false, why: 'newerVersion' };
  return { ok: false, why: 'faults', faults: reading.faults };
}
