import { languageTag } from './format.ts';

/**
 * Reading a page aloud with the phone's own voices. Only voices that are on the
 * device are used: others would send the words of a sick person away.
 */
export type Reading = 'noVoice' | 'reading';

/** Voices come late in some browsers; longer than this nobody waits. */
const VOICES_MS = 1500;

/** What is never read: what only the eye or a screen reader is meant to have. */
const SILENT = '[aria-hidden="true"]:not(.choice-words), .unseen, svg, table, details, .silent';
/** What is read as one piece. */
const PIECES = 'h1, h2, h3, p, li, dt, dd, blockquote, caption, label, figcaption, .choice-label, .choice-hint, .row-more';

/** The words of a page in the order they stand, one piece a sentence or choice. */
export function wordsOf(page: Element): string[] {
  const pieces = [...page.querySelectorAll(PIECES)].filter((piece) => !piece.closest(SILENT) && !piece.querySelector(PIECES));
  return pieces.map((piece) => textOf(piece)).filter((text) => text !== '');
}

function textOf(piece: Element): string {
  const copy = piece.cloneNode(true) as Element;
  for (const silent of copy.querySelectorAll(SILENT)) silent.remove();
  return (copy.textContent ?? '').replace(/\s+/g, ' ').trim();
}

const base = (tag: string): string => tag.toLowerCase().split(/[-_]/)[0] ?? '';

/** A voice on this device for a language: of its very region first. */
export function voiceFor(voices: readonly SpeechSynthesisVoice[], tag: string): SpeechSynthesisVoice | undefined {
  const own = voices.filter((v) => v.localService && base(v.lang) === base(tag));
  return own.find((v) => v.lang.replace('_', '-').toLowerCase() === tag.toLowerCase()) ?? own.find((v) => v.default) ?? own[0];
}

async function voicesOf(speech: SpeechSynthesis): Promise<readonly SpeechSynthesisVoice[]> {
  const now = speech.getVoices();
  if (now.length > 0) return now;
  await new Promise<void>((done) => {
    speech.addEventListener('voiceschanged', () => done(), { once: true });
    setTimeout(done, VOICES_MS);
  });
  return speech.getVoices();
}

let turn = 0;

/** Stops what is being read. */
export function stopReading(): void {
  turn += 1;
  globalThis.speechSynthesis?.cancel();
}

/**
 * Reads a page aloud, piece by piece, from the beginning.
 * @param onEnd told when it is over, however it ended.
 */
export async function readPage(page: Element, onEnd: () => void): Promise<Reading> {
  stopReading();
  const mine = turn;
  const speech = globalThis.speechSynthesis;
  const tag = languageTag();
  const voice = speech && voiceFor(await voicesOf(speech), tag);
  if (!speech || !voice) {
    onEnd();
    return 'noVoice';
  }
  // The page was turned while the voices were fetched.
  if (mine !== turn) {
    onEnd();
    return 'reading';
  }
  const pieces = wordsOf(page);
  pieces.forEach((text, i) => {
    // One utterance a piece: long ones break off in some browsers.
    const said = new SpeechSynthesisUtterance(text);
    said.voice = voice;
    said.lang = voice.lang;
    // A little slower than usual, for old ears.
    said.rate = 0.9;
    if (i === pieces.length - 1) said.onend = onEnd;
    said.onerror = onEnd;
    speech.speak(said);
  });
  if (pieces.length === 0) onEnd();
  return 'reading';
}
