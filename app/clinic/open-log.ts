import type { Plan } from '../care/plan/plan.ts';
import { fileOfCodes, readBookCodes } from '../exchange/book-codes.ts';
import type { BookArrival, BookRefusal, SentBook } from '../exchange/book-content.ts';
import { readBookFile } from '../exchange/book-file.ts';
import { fileName } from '../exchange/file-name.ts';

/** A log on the desk. It lives in this tab only. */
export interface OpenLog {
  book: SentBook;
  /** The file as it was; of codes a file with the same content. */
  file: { name: string; content: Blob };
}

/** `unreadable`: the browser cannot read the file at all. */
export type LogFault = BookRefusal | 'unreadable';
export type LogReading = { ok: true; log: OpenLog } | { ok: false; why: LogFault };

const opened = (arrival: BookArrival, file: OpenLog['file']): LogReading =>
  arrival.ok ? { ok: true, log: { book: arrival.book, file } } : arrival;

/** Reads a log from a file. */
export async function logFromFile(file: File): Promise<LogReading> {
  const arrival = await readBookFile(file).catch(() => undefined);
  return arrival ? opened(arrival, { name: file.name, content: file }) : { ok: false, why: 'unreadable' };
}

/** Reads a log from the bytes of a whole set of codes. */
export function logFromCodes(bytes: Uint8Array): LogReading {
  const arrival = readBookCodes(bytes);
  const content = fileOfCodes(bytes) ?? new Blob();
  const { plan, made } = arrival.ok ? arrival.book : {};
  return opened(arrival, { name: fileName('log-clinic', plan?.person.callMe, made?.slice(0, 10) ?? '', 'txt'), content });
}

/** Whose a plan or a log is. */
export type Person = Pick<Plan['person'], 'id' | 'callMe'>;
export const isSamePerson = (a: Person, b: Person): boolean => a.id === b.id;
