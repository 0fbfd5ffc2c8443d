import { useEffect, useMemo, useState } from 'preact/hooks';
import { type LogFinding, logFindings } from '../care/visit/log-findings.ts';
import { type VisitInput, type VisitSummary, visitSummary } from '../care/visit/summary.ts';
import type { SentBook } from '../exchange/book-content.ts';
import { type ChosenDays, inputOf } from './log-input.ts';

export interface ReadLog {
  input: VisitInput;
  summary: VisitSummary;
  found: LogFinding[];
}

/** What a log says of the chosen days, worked out once for each choice. */
export function useLog(book: SentBook, { span, from, to }: ChosenDays): ReadLog {
  return useMemo(() => {
    const input = inputOf(book, { span, from, to });
    const summary = visitSummary(input);
    return { input, summary, found: logFindings(input, summary) };
  }, [book, span, from, to]);
}

/** Addresses of the photos that came with a log, by the id of their bytes. They end with the page. */
export function usePhotoAddresses({ photos }: SentBook): ReadonlyMap<string, string> {
  const [addresses, setAddresses] = useState<ReadonlyMap<string, string>>(new Map());
  useEffect(() => {
    const made = new Map(photos.map(({ id, bytes }) => [id, URL.createObjectURL(bytes)]));
    setAddresses(made);
    return () => {
      for (const address of made.values()) URL.revokeObjectURL(address);
    };
  }, [photos]);
  return addresses;
}
