import nodeCrypto from 'node:crypto';
import zlib from 'node:zlib';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { BackupFault, type BackupRefusal, backupFault, openBackup, writeBackup } from '../../app/exchange/backup-file.ts';
import type { BackupPart } from '../../app/exchange/backup-parts.ts';
import { writeBookFile } from '../../app/exchange/book-file.ts';
import { PASSPHRASE_ROUNDS, passphraseKey } from '../../app/exchange/passphrase.ts';
import { planToFile } from '../../app/exchange/plan-file.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { bookOf, lived, picture } from './logs.ts';
import { clinic, PASSPHRASE } from './make.ts';
import { mutationsOf } from './mutate.ts';

const MADE = '2031-06-04T15:00:00.000Z';
const contents: BackupPart = {
  kind: 'contents',
  books: [{ book: 'nela', callMe: 'Nela', records: 68, first: '2031-03-04' as LocalDay, last: '2031-03-17' as LocalDay }],
  photos: 2,
  photoBytes: 2_600_064,
};
const parts: BackupPart[] = [
  contents,
  { kind: 'settings', value: { textSize: 'large' } },
  { kind: 'book', book: 'nela', value: { id: 'nela', plan: demoPlan(), earlierPlans: [], acceptedAt: MADE, keepMonths: [] } },
  { kind: 'senders', book: 'nela', value: [{ kty: 'EC', crv: 'P-256', x: 'x', y: 'y' }] },
  { kind: 'month', book: 'nela', month: '2031-03', value: lived(14) },
  { kind: 'month', book: 'nela', month: '0000-00', value: ['torn', null, { kind: 'wish' }] },
  { kind: 'draft', key: 'draft:nela:check', value: { id: 'x', answers: { note: 'ü – 😀' } } },
  { kind: 'photo', photo: 'p1', bytes: picture(1) },
  // More than two chunks.
  { kind: 'photo', photo: 'p2', bytes: picture(2, 2_600_000) },
];
async function* each(list: readonly BackupPart[]): AsyncGenerator<BackupPart> {
  yield* list;
}
const write = (list: readonly BackupPart[], passphrase = PASSPHRASE, more: object = {}) =>
  writeBackup(each(list), passphrase, { made: MADE, count: list.length, ...more });

/** Deriving a key takes a good part of a second; a file opened again and again keeps it. */
const keys = new Map<string, Promise<CryptoKey>>();
const keyOf: typeof passphraseKey = (passphrase, salt, rounds) => {
  const name = `${passphrase} ${Buffer.from(salt).toString('hex')} ${rounds}`;
  const known = keys.get(name) ?? passphraseKey(passphrase, salt, rounds);
  keys.set(name, known);
  return known;
};

/** What a file holds, as plain data, or why it cannot be opened. */
async function read(file: Blob, passphrase = PASSPHRASE): Promise<unknown[] | BackupRefusal> {
  const opened = await openBackup(file, passphrase, keyOf);
  if (!opened.ok) return opened.why;
  const fault = await opened.backup.fault();
  if (fault) return fault;
  const found: unknown[] = [];
  for await (const part of opened.backup.parts()) found.push(await plain(part));
  return found;
}
const plain = async (part: BackupPart): Promise<unknown> =>
  part.kind === 'photo' ? { ...part, bytes: Buffer.from(await part.bytes.arrayBuffer()).toString('base64'), type: part.bytes.type } : part;

let file: Blob;
let text: string;
beforeAll(async () => {
  file = await write(parts);
  text = await file.text();
});
const blob = (content: string | Uint8Array<ArrayBuffer>): Blob => new Blob([content]);
const linesOf = (): string[] => text.trimEnd().split('\n');
const joined = (lines: readonly string[]): Blob => blob(`${lines.join('\n')}\n`);

describe('a locked copy', () => {
  test('gives every part back as it was, the unreadable too, in its order', async () => {
    expect(await read(file)).toEqual(await Promise.all(parts.map(plain)));
  });

  test('is text that mail and share sheets leave alone: ASCII, a readable first line', () => {
    expect(text).toMatch(/^[\x20-\x7e\n]+$/);
    expect(file.type).toBe('text/plain');
    const header = JSON.parse(linesOf()[0] as string) as Record<string, unknown>;
    expect(header).toMatchObject({
      tendbook: 'backup',
      version: 1,
      made: MADE,
      lock: { name: 'PBKDF2', hash: 'SHA-256', iterations: 600_000 },
      cipher: { name: 'AES-GCM' },
    });
    expect(PASSPHRASE_ROUNDS).toBe(600_000);
    expect(linesOf().length).toBe(2 + 3);
  });

  test('shows nothing of what is in it', () => {
    const body = Buffer.concat(
      linesOf()
        .slice(2)
        .map((l) => Buffer.from(l, 'base64')),
    );
    // Long enough that chance does not write them.
    for (const secret of ['alder-street-0417', 'Alder Street', 'dryInPlace', '2031-03-04T']) {
      expect(JSON.stringify(lived(14)) + JSON.stringify(demoPlan())).toContain(secret);
      expect([secret, text.includes(secret), body.includes(secret)]).toEqual([secret, false, false]);
    }
    expect(zlib.deflateRawSync(body).length).toBeGreaterThan(body.length * 0.999);
  });

  test('two copies of the same are different throughout', async () => {
    const other = (await (await write(parts)).text()).trimEnd().split('\n');
    for (const [i, line] of linesOf().entries()) expect(other[i]).not.toBe(line);
  });

  test('opens with what its first line says and nothing else (reference: Node’s own PBKDF2 and AES-GCM)', () => {
    const [line, check, ...chunks] = linesOf() as [string, string, ...string[]];
    const { lock, cipher } = JSON.parse(line) as { lock: { salt: string; iterations: number }; cipher: { nonce: string } };
    expect(check.split(' ')[0]).toBe(zlib.crc32(line).toString(16).padStart(8, '0'));
    const key = nodeCrypto.pbkdf2Sync(PASSPHRASE, Buffer.from(lock.salt, 'base64'), lock.iterations, 32, 'sha256');
    const open = (raw: Buffer, number: number, last: boolean): Buffer => {
      const iv = Buffer.concat([
        Buffer.from(cipher.nonce, 'base64'),
        Buffer.from([number >> 24, number >> 16, number >> 8, number]),
        Buffer.from([last ? 1 : 0]),
      ]);
      const decipher = nodeCrypto.createDecipheriv('aes-256-gcm', key, iv);
      decipher.setAAD(Buffer.from(`${line}\n${number} ${last ? 'last' : 'more'}`));
      decipher.setAuthTag(raw.subarray(-16));
      return Buffer.concat([decipher.update(raw.subarray(0, -16)), decipher.final()]);
    };
    expect(open(Buffer.from(check.split(' ')[1] as string, 'base64'), 0, false)).toHaveLength(0);
    const whole = Buffer.concat(chunks.map((c, i) => open(Buffer.from(c, 'base64'), i + 1, i === chunks.length - 1)));
    const [head, body] = [whole.readUInt32BE(0), whole.readUInt32BE(4)];
    expect(JSON.parse(whole.subarray(8, 8 + head).toString())).toEqual({ kind: 'contents' });
    expect(JSON.parse(whole.subarray(8 + head, 8 + head + body).toString())).toMatchObject({ photos: 2 });
  });

  test('line breaks of another system, blank lines and a lost last one do no harm', async () => {
    for (const changed of [text.replaceAll('\n', '\r\n'), text.trimEnd(), `${text}\n\n`, text.replaceAll('\n', '\n\n')]) {
      expect(await read(blob(changed))).toHaveLength(parts.length);
    }
  });

  test('the same letters typed on another keyboard open it; others do not', async () => {
    const composed = await write([contents], 'café crème brûlée'.normalize('NFC'));
    expect(await read(composed, 'café crème brûlée'.normalize('NFD'))).toHaveLength(1);
    expect(await read(composed, 'cafe creme brulee')).toBe('wrongPassphrase');
  });

  test('ends exactly at a full chunk as well as anywhere else', async () => {
    const empty = (await (await write([contents])).text()).length;
    for (const extra of [-1, 0, 1]) {
      const size = (1 << 20) - 400 + extra;
      const own = [contents, { kind: 'photo' as const, photo: 'p', bytes: picture(3, size) }];
      const copy = await write(own);
      expect(copy.size).toBeGreaterThan(empty);
      expect(await read(copy)).toEqual(await Promise.all(own.map(plain)));
    }
  });

  test('a passphrase that is too short makes none, and what no copy can hold is refused while writing', async () => {
    await expect(write(parts, 'nine char')).rejects.toThrow(RangeError);
    await expect(write([contents, { kind: 'photo', photo: '../p', bytes: picture(1) }])).rejects.toThrow(RangeError);
  });
});

describe('progress and stopping', () => {
  test('is told from nothing to all, in both directions, never backwards', async () => {
    const told: number[] = [];
    const copy = await write(parts, PASSPHRASE, { onProgress: (s: number) => told.push(s) });
    expect(told).toHaveLength(parts.length);
    const opened = await openBackup(copy, PASSPHRASE, keyOf);
    if (!opened.ok) throw new Error(opened.why);
    const back: number[] = [];
    await opened.backup.fault({ onProgress: (s) => back.push(s) });
    for (const list of [told, back]) {
      expect(list).toEqual([...list].sort((a, b) => a - b));
      expect(list.at(-1)).toBe(1);
    }
  });

  test('stops when asked, and throws nothing else', async () => {
    const stop = new AbortController();
    let asked = 0;
    async function* slow(): AsyncGenerator<BackupPart> {
      for (const part of [...parts, ...parts.slice(8)]) {
        if (++asked === 9) stop.abort();
        yield part;
      }
    }
    await expect(writeBackup(slow(), PASSPHRASE, { made: MADE, count: 10, signal: stop.signal })).rejects.toMatchObject({
      name: 'AbortError',
    });
    expect(asked).toBeLessThan(11);
    const opened = await openBackup(file, PASSPHRASE, keyOf);
    if (!opened.ok) throw new Error(opened.why);
    const halt = new AbortController();
    halt.abort();
    await expect(opened.backup.fault({ signal: halt.signal })).rejects.toMatchObject({ name: 'AbortError' });
  });
});

describe('what cannot be brought back says why', () => {
  test.each<[string, BackupRefusal, () => Blob | Promise<Blob>]>([
    ['an empty file', 'nothing', () => blob('')],
    ['blank lines', 'nothing', () => blob('\n\n')],
    ['a log of one person', 'book', () => writeBookFile(bookOf(2))],
    ['a plan', 'notABackup', () => blob(planToFile(demoPlan()))],
    ['a plan in one line', 'plan', () => blob(JSON.stringify(JSON.parse(planToFile(demoPlan()))))],
    ['a clinic’s keys', 'notABackup', async () => blob((await clinic()).file)],
    ['text', 'notABackup', () => blob('Dear clinic,\nhello\n')],
    ['a picture', 'notABackup', () => picture(1, 5_000)],
    ['a very long line', 'notABackup', () => blob('x'.repeat(3_000_000))],
    ['a newer version', 'newerVersion', () => blob('{"tendbook":"backup","version":2,"shape":"new"}\n')],
    ['fewer rounds than are safe', 'damaged', () => blob(text.replace('600000', '1000'))],
    ['more rounds than a phone can do', 'damaged', () => blob(text.replace('600000', '600000000'))],
    ['another cipher', 'damaged', () => blob(text.replace('AES-GCM', 'AES-CTR'))],
    ['a changed first line', 'damaged', () => blob(text.replace('"made":"2031', '"made":"2032'))],
    ['a first line that is no JSON any more', 'damaged', () => blob(text.replace('"lock":{', '"lock":('))],
    ['a changed second line', 'damaged', () => joined(linesOf().map((l, i) => (i === 1 ? `x${l}` : l)))],
    ['half of the first line', 'cutOff', () => blob(text.slice(0, 100))],
    ['the first line alone', 'cutOff', () => blob(`${linesOf()[0]}\n`)],
    ['half of the second line', 'cutOff', () => blob(text.slice(0, (linesOf()[0] as string).length + 20))],
    ['the first two lines', 'cutOff', () => joined(linesOf().slice(0, 2))],
    ['all but the last chunk', 'cutOff', () => joined(linesOf().slice(0, -1))],
    ['half of the last chunk', 'cutOff', () => blob(text.slice(0, -1_000))],
    ['half of the first chunk', 'cutOff', () => blob(text.slice(0, 400_000))],
    ['a chunk left out', 'damaged', () => joined(linesOf().filter((_, i) => i !== 3))],
    ['two chunks changed about', 'damaged', () => joined([0, 1, 3, 2, 4].map((i) => linesOf()[i] as string))],
    ['a chunk twice', 'damaged', () => joined([0, 1, 2, 2, 3, 4].map((i) => linesOf()[i] as string))],
    ['something behind the end', 'damaged', () => blob(`${text}AAAA\n`)],
    ['letters that are no base64', 'damaged', () => joined(linesOf().map((l, i) => (i === 2 ? `!${l.slice(1)}` : l)))],
    ['one chunk without an end', 'damaged', () => blob(`${linesOf().slice(0, 2).join('\n')}\n${'A'.repeat(7_000_000)}`)],
  ])('%s: %s', async (_name, why, make) => {
    expect(await read(await make())).toBe(why);
  });

  test('another kind of file is told without a passphrase', async () => {
    expect(await backupFault(file)).toBeUndefined();
    expect(await backupFault(await writeBookFile(bookOf(2)))).toBe('book');
    expect(await backupFault(picture(1))).toBe('notABackup');
    expect(await backupFault(blob(''))).toBe('nothing');
  });

  test('a wrong passphrase is told as that, before anything is unlocked', async () => {
    for (const wrong of [`${PASSPHRASE} `, PASSPHRASE.toUpperCase(), 'something else'])
      expect(await read(file, wrong)).toBe('wrongPassphrase');
    // Even of a file that is cut off: the passphrase is what can be mended.
    expect(await read(joined(linesOf().slice(0, -1)), 'something else')).toBe('wrongPassphrase');
  });

  test('of a file that is cut off, what is there can be taken, and it is whole', async () => {
    const opened = await openBackup(joined(linesOf().slice(0, -1)), PASSPHRASE, keyOf);
    if (!opened.ok) throw new Error(opened.why);
    const found: unknown[] = [];
    let why: unknown;
    try {
      for await (const part of opened.backup.parts()) found.push(await plain(part));
    } catch (error) {
      why = error instanceof BackupFault && error.why;
    }
    expect(why).toBe('cutOff');
    // All but the last photo: the log is lost last.
    expect(found).toEqual(await Promise.all(parts.slice(0, -1).map(plain)));
  });

  test('a chunk of another copy with the same passphrase does not fit in', async () => {
    const other = (await (await write(parts)).text()).trimEnd().split('\n');
    expect(await read(joined(linesOf().map((l, i) => (i === 3 ? (other[3] as string) : l))))).toBe('damaged');
  });

  test('parts that are none are refused although they were locked with the right passphrase', async () => {
    const bodies = [
      [{ kind: 'settings', value: 1 }],
      [{ ...contents, photos: -1 }],
      [contents, { kind: 'month', book: 'nela', month: '2031-03', value: JSON.parse('{"__proto__":{"x":1}}') as object }],
    ] as BackupPart[][];
    for (const list of bodies) expect(await read(await write(list))).toBe('damaged');
  });
});

describe('any change of the file', () => {
  test('is noticed: refused with a reason, or the very same parts', async () => {
    const small = await write(parts.filter((p) => p.kind !== 'photo'));
    const real = new Uint8Array(await small.arrayBuffer());
    const whole = JSON.stringify(await read(small));
    const reasons = new Map<string, number>();
    await fc.assert(
      fc.asyncProperty(mutationsOf(real), async (bytes) => {
        // A changed salt or number of rounds asks for another key; those are told by the sum before it is derived.
        const found = await read(blob(bytes));
        if (typeof found !== 'string') expect(JSON.stringify(found)).toBe(whole);
        const reason = typeof found === 'string' ? found : 'same';
        reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
      }),
      { numRuns: 3 * (fc.readConfigureGlobal().numRuns ?? 300) },
    );
    expect([...reasons.keys()]).toEqual(expect.arrayContaining(['damaged', 'cutOff', 'notABackup']));
  });

  test('bytes and lines of any kind are refused, and nothing throws', async () => {
    const header = linesOf()[0] as string;
    const second = linesOf()[1] as string;
    const start = fc.constantFrom('', `${header}\n`, `${header}\n${second}\n`, '{"tendbook":"backup","version":1');
    await fc.assert(
      fc.asyncProperty(start, fc.oneof(fc.string(), fc.base64String(), fc.string({ unit: 'binary' })), async (before, rest) => {
        expect(typeof (await read(blob(before + rest)))).toBe('string');
      }),
    );
  });
});
