import { useRef, useState } from 'preact/hooks';
import { collectLog, looksLikeLogCode } from '../exchange/book-codes.ts';
import type { Collected } from '../exchange/code-sequence.ts';
import { codesInPhoto } from '../exchange/photo-codes.ts';
import { planFromText } from '../exchange/plan-file.ts';
import { t } from '../words/i18n.ts';
import { isSamePerson, type LogReading, logFromCodes, logFromFile, type OpenLog, type Person } from './open-log.ts';

/**
 * Takes in a log as a file or as codes, in any order. A log of another person
 * than the one on the desk is told and left alone.
 * @param expected the person on the desk, if there is one.
 */
export function useLogReader(expected: Person | undefined, onLog: (log: OpenLog) => void) {
  const [fault, setFault] = useState<string | undefined>();
  const [codes, setCodes] = useState<Collected | undefined>();
  // The camera calls again before a state has settled.
  const collected = useRef<Collected | undefined>(undefined);
  const keep = (state: Collected | undefined) => {
    collected.current = state;
    setCodes(state);
  };

  const arrive = (reading: LogReading) => {
    if (!reading.ok) return setFault(t(`clinic:readLog.fault.${reading.why}`));
    const { person } = reading.log.book.plan;
    if (expected && !isSamePerson(person, expected))
      return setFault(t('clinic:readLog.otherPerson', { other: person.callMe, name: expected.callMe }));
    setFault(undefined);
    onLog(reading.log);
  };
  const takeText = (text: string) => {
    if (!looksLikeLogCode(text)) {
      const arrival = planFromText(text);
      const isPlan = arrival.ok || ['signed', 'part', 'faults', 'newerVersion'].includes(arrival.why);
      return setFault(t(`clinic:readLog.code.${isPlan ? 'plan' : 'none'}`));
    }
    const step = collectLog(collected.current, text);
    if (step.event === 'added' || step.event === 'repeat') {
      keep(step.state);
      return setFault(undefined);
    }
    if (step.event !== 'complete') {
      if (step.event === 'damaged') keep(undefined);
      return setFault(t(`clinic:readLog.code.${step.event}`));
    }
    keep(undefined);
    arrive(logFromCodes(step.bytes));
  };
  const takePhoto = async (photo: Blob): Promise<void> => {
    const reading = await codesInPhoto(photo);
    if (!reading.ok) return setFault(t(`clinic:readLog.photo.${reading.why}`));
    if (reading.texts.length === 0) return setFault(t('clinic:readLog.photo.noCode'));
    for (const text of reading.texts) takeText(text);
  };
  /** Files as they were chosen or dropped: photos are looked at for codes, the first other one is opened. */
  const takeFiles = async (files: readonly File[]): Promise<void> => {
    setFault(undefined);
    const [log] = files.filter((f) => !f.type.startsWith('image/'));
    if (log) return arrive(await logFromFile(log));
    for (const photo of files) await takePhoto(photo);
  };
  const startOver = () => {
    keep(undefined);
    setFault(undefined);
  };
  return { fault, codes, takeText, takeFiles, startOver };
}
