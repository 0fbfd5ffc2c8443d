import type { Plan, PlanFault } from '../care/plan/plan.ts';
import { fromBase64Url, seal, toBase64Url, unseal } from './bytes.ts';
import { field, fieldsOf, type PlanRefusal, parseJson, planFromJson, planToJson, SIGNED_DIGITS, TEXT_MOST } from './plan-json.ts';
import type { PublicKey } from './signature.ts';

export { TEXT_MOST };

/**
 * A plan on its way to the phone, as text.
 *
 * - In a link or on paper, unsigned: `1.` and the base64url of raw-deflated
 *   JSON with the CRC-32 of the JSON behind it, most significant byte first.
 * - In a link, signed: a compact JWS (see envelope.ts).
 * - In a QR code, signed: `s` and digits, or `p` and digits for a part of a set
 *   (see code-sequence.ts).
 * - In a file, unsigned: the JSON itself, readable,
 *   `{ "tendbook": "plan", "plan": … }`.
 * - In a file, signed: `{ "tendbook": "signedPlan", "plan": "<compact JWS>" }`.
 */
const PACKED = '1.';
const SIGNED_FILE = 'signedPlan';
/** Three runs of base64url; the first letters are those of every JSON object. */
const SIGNED_TEXT = /^eyJ[A-Za-z0-9_-]*\.[A-Za-z0-9_-]*\.[A-Za-z0-9_-]*$/;
const PART = /^p(\d{2})(\d{2})\d{10}[1-9]\d*$/;

export type PlanArrival =
  | { ok: true; plan: Plan }
  | { ok: false; why: 'nothing' | 'tooLong' | 'notAPlan' | 'damaged' | 'newerVersion' }
  | { ok: false; why: 'faults'; faults: PlanFault[] }
  /** A signed plan; only `arrivalFromText` can check the signature. */
  | { ok: false; why: 'signed'; signed: string }
  /** One of several codes; `collect` brings them together. */
  | { ok: false; why: 'part'; part: string; number: number; count: number };

/** The unsigned plan as the text that follows `#plan=` in a link. */
export const planToCode = (plan: Plan): string => PACKED + toBase64Url(seal(planToJson(plan)));

/** The unsigned plan as a readable file. */
export const planToFile = (plan: Plan): string => `${planToJson(plan, 2)}\n`;

/** A signed plan as a file. @param jws from `signPlan`. */
export const signedToFile = (jws: string): string => `${JSON.stringify({ tendbook: SIGNED_FILE, plan: jws }, null, 2)}\n`;

/** The link that opens a code, signed or not, in the app at `address`. */
export const planLink = (code: string, address: string): string => `${address.replace(/#.*$/, '')}#plan=${code}`;

/** The link that opens this unsigned plan in the app at `address`. */
export const planToLink = (plan: Plan, address: string): string => planLink(planToCode(plan), address);

/** The code within whatever was pasted: a link, a message with a link, or the code with blanks in it. */
export const codeIn = (text: string): string => /#plan=([^#\s]+)/.exec(text)?.[1] ?? text.replace(/\s+/g, '');

/**
 * Reads a plan from whatever was pasted, scanned or opened: a link, the code
 * in it, or the content of a file. Never throws; a fault is told, nothing is
 * repaired. A signed plan is only recognised here, never given out unchecked.
 */
export function planFromText(text: string): PlanArrival {
  const trimmed = text.trim();
  if (trimmed === '') return { ok: false, why: 'nothing' };
  if (trimmed.length > TEXT_MOST) return { ok: false, why: 'tooLong' };
  if (trimmed.startsWith('{')) return fromFile(trimmed);
  const code = codeIn(trimmed);
  if (SIGNED_TEXT.test(code) || SIGNED_DIGITS.test(code)) return { ok: false, why: 'signed', signed: code };
  const part = PART.exec(code);
  if (part) return { ok: false, why: 'part', part: code, number: Number(part[1]), count: Number(part[2]) };
  const version = /^(\d+)\./.exec(code)?.[1];
  if (version === undefined) return { ok: false, why: 'notAPlan' };
  if (!code.startsWith(PACKED)) return { ok: false, why: 'newerVersion' };
  const bytes = fromBase64Url(code.slice(PACKED.length));
  const json = bytes && unseal(bytes);
  return json === undefined ? { ok: false, why: 'damaged' } : planFromJson(json);
}

function fromFile(json: string): PlanArrival {
  const content = fieldsOf(parseJson(json));
  const inner = field(content, 'plan');
  if (field(content, 'tendbook') !== SIGNED_FILE) return planFromJson(json);
  return typeof inner === 'string' && SIGNED_TEXT.test(inner) ? { ok: false, why: 'signed', signed: inner } : { ok: false, why: 'damaged' };
}

/** Whose a plan is: `unsigned` for one without a signature, else see envelope.ts. */
export type Arrival =
  | { ok: true; plan: Plan; sender: 'unsigned' }
  | { ok: true; plan: Plan; sender: 'trusted' | 'first' | 'other'; keyId: string; key: PublicKey }
  | PlanRefusal
  | { ok: false; why: 'nothing' | 'tooLong' | 'altered' | 'unknownKey' }
  | { ok: false; why: 'part'; part: string; number: number; count: number };

/**
 * Reads a plan as `planFromText` does and checks the signature of a signed
 * one. Never throws. The code for signatures is loaded only when needed.
 * @param trusted keys that this phone has taken as the clinic's before.
 */
export async function arrivalFromText(text: string, trusted: readonly PublicKey[]): Promise<Arrival> {
  const arrival = planFromText(text);
  if (arrival.ok) return { ...arrival, sender: 'unsigned' };
  if (arrival.why !== 'signed') return arrival;
  const { openSigned } = await import('./envelope.ts');
  return openSigned(arrival.signed, trusted);
}
