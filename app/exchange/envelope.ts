import { type Plan, type PlanFault, readPlan } from '../care/plan/plan.ts';
import { fromBase64Url, joinBytes, pack, toBase64Url, unpack } from './bytes.ts';
import { DICTIONARY_NOW, dictionaryOf } from './dictionary.ts';
import { fromDigits, toDigits } from './digits.ts';
import { field, fieldsOf, type PlanRefusal, parseJson, planFromJson, planToJson, SIGNED_DIGITS, TEXT_MOST } from './plan-json.ts';
import {
  type ClinicKeys,
  COORDINATE_BYTES,
  keyIdOf,
  type PublicKey,
  readPublicKey,
  SIGNATURE_BYTES,
  sameKey,
  sign,
  verify,
} from './signature.ts';

/**
 * A signed plan is a compact JWS (RFC 7515) over the raw-deflated JSON of the
 * plan. Header: `alg` ES256; `zip` DEF; `dct`, the number of the preset
 * dictionary, absent for plain deflate; `kid`; and `jwk`, the public key, so
 * that a phone without any can take it as the clinic's on first use.
 *
 * For a QR code the same JWS is written as digits after an `s`: a byte that
 * tells the shape, the key (or its id), the signature, the payload. The header
 * is not sent; it is written anew from these.
 */
const WITH_ID = 1;
const WITH_KEY = 2;
const KEY_ID_BYTES = 8;

interface Header {
  kid: string;
  /** Absent where only the key's id was sent. */
  jwk?: PublicKey | undefined;
  dct?: number | undefined;
}

/** The header as we write it, its members in a fixed order. */
function headerText({ kid, jwk }: Header): string {
  const key = jwk && { kty: jwk.kty, crv: jwk.crv, x: jwk.x, y: jwk.y };
  return JSON.stringify({ alg: 'ES256', zip: 'DEF', dct: DICTIONARY_NOW, kid, ...(key ? { jwk: key } : {}) });
}

const base64UrlOfText = (text: string): string => toBase64Url(new TextEncoder().encode(text));

/**
 * Signs a plan.
 * @param withKey whether the public key goes along; without it only phones that know the key can open the plan.
 * @returns a compact JWS.
 * @throws RangeError when the plan would not be read at the other end.
 */
export async function signPlan(plan: Plan, keys: ClinicKeys, withKey = true): Promise<string> {
  const reading = readPlan(JSON.parse(JSON.stringify(plan)));
  if (!reading.ok) throw new RangeError(`not a plan: ${JSON.stringify(reading.faults)}`);
  const header = headerText({ kid: keys.keyId, jwk: withKey ? keys.publicKey : undefined });
  const payload = pack(planToJson(reading.plan), dictionaryOf(DICTIONARY_NOW));
  const signed = `${base64UrlOfText(header)}.${toBase64Url(payload)}`;
  return `${signed}.${toBase64Url(await sign(signed, keys))}`;
}

/** Whose plan it is: of a key the phone trusts, of the first key it sees, or of another than it trusts. */
export type Sender = 'trusted' | 'first' | 'other';

export type SignedArrival =
  | { ok: true; plan: Plan; sender: Sender; keyId: string; key: PublicKey }
  | { ok: false; why: SignedRefusal }
  | { ok: false; why: 'faults'; faults: PlanFault[] };

/**
 * - `notAPlan`: nothing of ours. `damaged`: part of it is missing or unreadable.
 * - `altered`: the signature does not fit, or the key is not what its name says.
 * - `unknownKey`: signed with a key that did not come along and is not trusted.
 * - `newerVersion`: made by a newer desk.
 */
export type SignedRefusal = 'notAPlan' | 'damaged' | 'altered' | 'unknownKey' | 'newerVersion';

const refused = (why: SignedRefusal): SignedArrival => ({ ok: false, why });

/**
 * Opens a signed plan: first the signature, then the content. Never throws.
 * @param text a compact JWS, or its digits with the `s` before them.
 * @param trusted keys that this phone has taken as the clinic's before.
 */
export async function openSigned(text: string, trusted: readonly PublicKey[]): Promise<SignedArrival> {
  const jws = text.length > TEXT_MOST ? undefined : await compactOf(text);
  const parts = jws === undefined ? 'damaged' : partsOfJws(jws);
  if (typeof parts === 'string') return refused(parts);
  const header = readHeader(parts.header);
  if (typeof header === 'string') return refused(header);
  const key = header.jwk ?? (await keyNamed(header.kid, trusted));
  if (!key) return refused('unknownKey');
  if ((await keyIdOf(key)) !== header.kid || !(await verify(parts.signed, parts.signature, key))) return refused('altered');
  const content = planIn(parts.payload, header.dct);
  if (!content.ok) return content;
  const known = trusted.some((own) => sameKey(own, key));
  return { ok: true, plan: content.plan, sender: known ? 'trusted' : trusted.length === 0 ? 'first' : 'other', keyId: header.kid, key };
}

interface JwsParts {
  header: Uint8Array;
  payload: Uint8Array;
  signature: Uint8Array;
  /** What the signature is made of. */
  signed: string;
}

function partsOfJws(jws: string): JwsParts | SignedRefusal {
  const texts = jws.split('.');
  if (texts.length !== 3) return 'notAPlan';
  const [header, payload, signature] = texts.map(fromBase64Url);
  if (!header?.length || !payload || !signature) return 'damaged';
  return { header, payload, signature, signed: `${texts[0]}.${texts[1]}` };
}

/** Unfolds and reads the content, whose signature has been checked. */
function planIn(payload: Uint8Array, dct: number | undefined): { ok: true; plan: Plan } | PlanRefusal {
  const dictionary = dct === undefined ? undefined : dictionaryOf(dct);
  if (dct !== undefined && !dictionary) return { ok: false, why: 'newerVersion' };
  const json = unpack(payload, undefined, dictionary);
  return json === undefined ? { ok: false, why: 'damaged' } : planFromJson(json);
}

async function keyNamed(kid: string, trusted: readonly PublicKey[]): Promise<PublicKey | undefined> {
  for (const key of trusted) if ((await keyIdOf(key)) === kid) return key;
  return undefined;
}

/** A header that asks for anything but ES256 over deflate is refused; nothing in it can choose another way to verify. */
function readHeader(bytes: Uint8Array): Header | SignedRefusal {
  const fields = fieldsOf(parseJson(new TextDecoder().decode(bytes)));
  if (!fields) return 'damaged';
  if (field(fields, 'alg') !== 'ES256') return 'altered';
  // What must be understood and is not (RFC 7515, section 4.1.11), and an unencoded payload (RFC 7797).
  if (field(fields, 'crit') !== undefined || field(fields, 'b64') !== undefined || field(fields, 'zip') !== 'DEF') return 'newerVersion';
  const [kid, given, dct] = ['kid', 'jwk', 'dct'].map((name) => field(fields, name));
  const jwk = readPublicKey(given);
  if (typeof kid !== 'string' || (given !== undefined && !jwk)) return 'altered';
  if (dct !== undefined && typeof dct !== 'number') return 'newerVersion';
  return { kid, jwk, dct };
}

async function compactOf(text: string): Promise<string | undefined> {
  const digits = SIGNED_DIGITS.exec(text)?.[1];
  if (digits === undefined) return text;
  const bytes = fromDigits(digits);
  return bytes && unfold(bytes);
}

/** The bytes of a JWS of ours for a QR code; undefined for one whose header we would write otherwise. */
export function fold(jws: string): Uint8Array | undefined {
  const [head, payload, signature] = jws.split('.').map(fromBase64Url);
  const header = head && readHeader(head);
  if (!payload || signature?.length !== SIGNATURE_BYTES || !header || typeof header === 'string') return undefined;
  if (headerText(header) !== new TextDecoder().decode(head)) return undefined;
  const { jwk, kid } = header;
  const id = fromBase64Url(kid);
  if (id?.length !== KEY_ID_BYTES) return undefined;
  const key = jwk ? [Uint8Array.of(WITH_KEY), ...[jwk.x, jwk.y].map((c) => fromBase64Url(c) as Uint8Array)] : [Uint8Array.of(WITH_ID), id];
  return joinBytes([...key, signature, payload]);
}

/** Undoes `fold`. */
async function unfold(bytes: Uint8Array): Promise<string | undefined> {
  const isKey = bytes[0] === WITH_KEY;
  if (!isKey && bytes[0] !== WITH_ID) return undefined;
  const end = 1 + (isKey ? 2 * COORDINATE_BYTES : KEY_ID_BYTES);
  const payloadAt = end + SIGNATURE_BYTES;
  if (bytes.length <= payloadAt) return undefined;
  const [x, y] = [bytes.slice(1, 1 + COORDINATE_BYTES), bytes.slice(1 + COORDINATE_BYTES, end)].map(toBase64Url) as [string, string];
  const jwk: PublicKey | undefined = isKey ? { kty: 'EC', crv: 'P-256', x, y } : undefined;
  const kid = jwk ? await keyIdOf(jwk) : toBase64Url(bytes.slice(1, end));
  const parts = [base64UrlOfText(headerText({ kid, jwk })), toBase64Url(bytes.slice(payloadAt)), toBase64Url(bytes.slice(end, payloadAt))];
  return parts.join('.');
}

/** A JWS of ours as the digits of a QR code, with the `s` before them. */
export function signedDigits(jws: string): string | undefined {
  const bytes = fold(jws);
  return bytes && `s${toDigits(bytes)}`;
}
