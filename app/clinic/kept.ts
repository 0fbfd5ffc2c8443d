import { createStore, get, set, type UseStore } from 'idb-keyval';
import { type Clinic, readPlan } from '../care/plan/plan.ts';
import { type ClinicKeys, readPublicKey } from '../exchange/signature.ts';

/**
 * What the desk keeps on this device: the clinic's own details and its key
 * pair. Nothing about a person. A database of its own, so that neither the
 * patient's app nor its preview can touch it.
 */
const store = (): UseStore => createStore('tendbook-desk', 'desk');
const CLINIC = 'clinic';
const KEYS = 'keys';

/** The clinic's details, as far as they are typed; undefined when there are none or they are no longer readable. */
export async function keptClinic(): Promise<Partial<Clinic> | undefined> {
  const value = await get<unknown>(CLINIC, store());
  return typeof value === 'object' && value !== null && fits(value as Clinic) ? (value as Clinic) : undefined;
}

/** Whether a clinic passes the plan's own schema, tried on a plan that is otherwise whole. */
export function fits(clinic: Clinic): boolean {
  const call = { callUs: true };
  const frame = {
    version: 1,
    id: 'frame',
    revision: 1,
    issued: '2031-01-01',
    clinic,
    person: { id: 'frame', callMe: 'frame', language: 'en' },
    wounds: [
      {
        id: 'w1',
        site: 'bigToe',
        side: 'left',
        keepDry: false,
        expectedDrainage: ['none', 'none'],
        known: [],
        bands: { none: call, light: call, moderate: call, heavy: call },
      },
    ],
    supplies: [],
    donts: [],
    ownDonts: [],
    asks: [],
    escalation: {},
  };
  return readPlan(JSON.parse(JSON.stringify(frame))).ok;
}

/** Keeps the clinic's details once they are whole. */
export async function keepClinic(clinic: Clinic): Promise<void> {
  if (fits(clinic)) await set(CLINIC, structuredClone(clinic), store());
}

/** The clinic's key pair on this device, if it was made or brought here. */
export async function keptKeys(): Promise<ClinicKeys | undefined> {
  const value = await get<Partial<ClinicKeys>>(KEYS, store());
  const publicKey = readPublicKey(value?.publicKey);
  const { privateKey, keyId } = value ?? {};
  return publicKey && privateKey instanceof CryptoKey && typeof keyId === 'string' ? { privateKey, publicKey, keyId } : undefined;
}

export const keepKeys = (keys: ClinicKeys): Promise<void> => set(KEYS, keys, store());
