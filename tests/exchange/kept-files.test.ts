import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { PLAN_VERSION } from '../../app/care/plan/plan.ts';
import { openBackup, writeBackup } from '../../app/exchange/backup-file.ts';
import { collectLog, foldBook, readBookCodes } from '../../app/exchange/book-codes.ts';
import { BOOK_VERSION, type BookArrival } from '../../app/exchange/book-content.ts';
import { readBookBytes } from '../../app/exchange/book-file.ts';
import { makeKeys, openKeys } from '../../app/exchange/clinic-keys.ts';
import type { Collected } from '../../app/exchange/code-sequence.ts';
import { DICTIONARY_NOW } from '../../app/exchange/dictionary.ts';
import { LOG_DICTIONARY_NOW } from '../../app/exchange/log-dictionary.ts';
import { arrivalFromText, planToCode } from '../../app/exchange/plan-file.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { bookOf } from './logs.ts';
import { PASSPHRASE } from './make.ts';

/**
 * Files and codes as each shipped version wrote them, kept for ever: what a
 * clinic printed or a person saved must open years later. Whoever raises a
 * version adds what it writes, and never writes a kept one anew.
 */
const FOLDER = new URL('./fixtures/', import.meta.url);
const kept = (name: string): Buffer => readFileSync(new URL(name, FOLDER));
const text = (name: string): string => kept(name).toString('utf8').trim();

const isDemo = async (name: string): Promise<boolean> => {
  const arrival = await arrivalFromText(text(name), []);
  return arrival.ok && arrival.plan.person.callMe === 'Nela' && arrival.plan.clinic.phone === demoPlan().clinic.phone;
};
const holds = (arrival: BookArrival, photos: number): boolean =>
  arrival.ok && arrival.book.records.length === 20 && arrival.book.odd.length === 0 && arrival.book.photos.length === photos;

function fromCodes(name: string): BookArrival {
  let state: Collected | undefined;
  for (const line of text(name).split('\n')) {
    const step = collectLog(state, line);
    if (step.event === 'complete') return readBookCodes(step.bytes);
    state = step.state;
  }
  return { ok: false, why: 'cutOff' };
}

async function copyHolds(name: string): Promise<boolean> {
  const opened = await openBackup(new Blob([new Uint8Array(kept(name))]), PASSPHRASE);
  if (!opened.ok || (await opened.backup.fault()) !== undefined) return false;
  const kinds: string[] = [];
  for await (const part of opened.backup.parts()) kinds.push(part.kind);
  return ['contents', 'settings', 'book', 'month', 'photo'].every((kind) => kinds.includes(kind));
}

const fieldOf = (json: string, name: string): unknown => (JSON.parse(json) as Record<string, unknown>)[name];
async function* onePart() {
  yield { kind: 'contents' as const, books: [], photos: 0, photoBytes: 0 };
}

interface Kind {
  /** The version that this app writes, and whether a kept file of one opens with all that is in it. */
  now: () => unknown;
  opens: (name: string) => boolean | Promise<boolean>;
}
const KINDS: Record<string, Kind> = {
  plan: { now: () => PLAN_VERSION, opens: isDemo },
  'plan-code': { now: () => Number(planToCode(demoPlan()).split('.')[0]), opens: isDemo },
  'signed-plan': { now: () => DICTIONARY_NOW, opens: isDemo },
  'signed-digits': { now: () => DICTIONARY_NOW, opens: isDemo },
  book: { now: () => BOOK_VERSION, opens: (name) => holds(readBookBytes(new Uint8Array(kept(name))), 1) },
  'book-codes': { now: () => Math.max(foldBook(bookOf(1))[0] ?? 0, LOG_DICTIONARY_NOW), opens: (name) => holds(fromCodes(name), 0) },
  backup: {
    now: async () => {
      const file = await writeBackup(onePart(), PASSPHRASE, { made: '2031-06-04T15:00:00.000Z', count: 1 });
      return fieldOf((await file.text()).split('\n')[0] as string, 'version');
    },
    opens: copyHolds,
  },
  'clinic-keys': {
    now: async () => fieldOf((await makeKeys(PASSPHRASE)).file, 'version'),
    opens: async (name) => (await openKeys(text(name), PASSPHRASE)).ok,
  },
};

/** What a kept file was when it was kept: the first half of its SHA-256. */
const SUMS: Record<string, string> = {
  'backup-1.txt': '1048bf5fd01ccc1d3a44a26b7ce1465f',
  'book-1.txt': '9d831969360ccc57a2dfc31b17eeec45',
  'book-codes-1.txt': 'e4407f4e568b3d85005161d83aa048f6',
  'clinic-keys-1.txt': 'f45369db6ea08e82827e7fbc72e889fa',
  'plan-1.txt': '5adfc10505844d44bb9b517ea6a47adb',
  'plan-code-1.txt': '33e1490a6520ec0e305b2c51df086cfa',
  'signed-digits-1.txt': '76ee787c14e4f382bbc8bd316e4fe379',
  'signed-plan-1.txt': 'd37e7afc912b5913c741e4dba9f5e85b',
};

describe('what an earlier version wrote', () => {
  test.each(Object.entries(KINDS))(
    '%s: of each version there is one, and it opens with all that is in it',
    async (kind, { now, opens }) => {
      const version = Number(await now());
      expect(version).toBeGreaterThanOrEqual(1);
      for (let v = 1; v <= version; v++) expect([v, await opens(`${kind}-${v}.txt`)]).toEqual([v, true]);
    },
  );

  test('is kept as it was, and nothing else is', () => {
    const sums = readdirSync(FOLDER).map((name) => [name, createHash('sha256').update(kept(name)).digest('hex').slice(0, 32)]);
    expect(Object.fromEntries(sums)).toEqual(SUMS);
  });
});
