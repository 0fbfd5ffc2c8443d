// @vitest-environment happy-dom
import { cleanup, render, screen } from '@testing-library/preact';
import { userEvent } from '@testing-library/user-event';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Choices } from '../../app/parts/choice.tsx';
import { Page } from '../../app/parts/page.tsx';
import { loadAreas, words } from '../../app/words/i18n.ts';
import { voiceFor, wordsOf } from '../../app/words/read-aloud.ts';

type Voice = Pick<SpeechSynthesisVoice, 'lang' | 'localService' | 'default'> & { name: string };
const voice = (name: string, lang: string, localService = true, isDefault = false): SpeechSynthesisVoice =>
  ({ name, lang, localService, default: isDefault }) as Voice as SpeechSynthesisVoice;

/** A phone that can speak: what it was told to say, until it was told to stop. */
class FakeSpeech extends EventTarget {
  said: { text: string; voice: SpeechSynthesisVoice | null; lang: string; onend: (() => void) | null }[] = [];
  speaking = false;
  pending = false;
  constructor(private voices: SpeechSynthesisVoice[]) {
    super();
  }
  getVoices = () => this.voices;
  speak = (said: FakeSpeech['said'][number]) => {
    this.said.push(said);
    this.speaking = true;
  };
  cancel = () => {
    this.said = [];
    this.speaking = false;
  };
  comeLate(voices: SpeechSynthesisVoice[]) {
    this.voices = voices;
    this.dispatchEvent(new Event('voiceschanged'));
  }
}

function phone(voices: SpeechSynthesisVoice[]): FakeSpeech {
  const speech = new FakeSpeech(voices);
  vi.stubGlobal('speechSynthesis', speech);
  vi.stubGlobal(
    'SpeechSynthesisUtterance',
    class {
      constructor(readonly text: string) {}
    },
  );
  return speech;
}

beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(['common']);
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  document.documentElement.removeAttribute('data-read');
});

const Question = () => (
  <Page title="How is the foot?" foot={<button type="button">Next</button>}>
    <p class="lead">
      Look at <b>both</b> sides.
    </p>
    <p class="unseen">for screen readers only</p>
    <Choices legend="Foot" choices={[{ value: 'a', label: 'As usual', hint: 'No change' }]} chosen={[]} onChange={() => undefined} />
  </Page>
);

describe('reading a page aloud', () => {
  it('reads title, sentences and choices in order, each as one piece, and nothing hidden', async () => {
    const speech = phone([voice('Ana', 'en-US')]);
    render(<Question />);
    await userEvent.setup().click(screen.getByRole('button', { name: 'Read aloud' }));
    await expect.poll(() => speech.said.map((s) => s.text)).toEqual(['How is the foot?', 'Look at both sides.', 'As usual', 'No change']);
    expect(speech.said.every((s) => s.voice?.name === 'Ana' && s.lang === 'en-US')).toBe(true);
  });

  it('can be stopped, and says so on its button', async () => {
    const speech = phone([voice('Ana', 'en-US')]);
    const user = userEvent.setup();
    render(<Question />);
    await user.click(screen.getByRole('button', { name: 'Read aloud' }));
    await user.click(await screen.findByRole('button', { name: 'Stop reading' }));
    await expect.poll(() => speech.said).toEqual([]);
  });

  it('never uses a voice that would send the words away, and says what to do', async () => {
    const speech = phone([voice('Cloud', 'en-US', false), voice('Ana', 'es-ES')]);
    render(<Question />);
    await userEvent.setup().click(screen.getByRole('button', { name: 'Read aloud' }));
    expect((await screen.findByRole('status')).textContent).toContain('no voice for this language');
    expect(speech.said).toEqual([]);
  });

  it('waits for voices that come late', async () => {
    const speech = phone([]);
    render(<Question />);
    await userEvent.setup().click(screen.getByRole('button', { name: 'Read aloud' }));
    await new Promise((done) => setTimeout(done, 50));
    speech.comeLate([voice('Ana', 'en-GB')]);
    await expect.poll(() => speech.said.length).toBe(4);
  });

  it('by itself only when the person chose so, and a turned page starts anew', async () => {
    const speech = phone([voice('Ana', 'en-US')]);
    const { rerender } = render(<Page title="First" />);
    await new Promise((done) => setTimeout(done, 30));
    expect(speech.said).toEqual([]);
    document.documentElement.dataset.read = 'aloud';
    rerender(<Page title="Second" />);
    await expect.poll(() => speech.said.map((s) => s.text)).toEqual(['Second']);
    rerender(<Page title="Third" />);
    await expect.poll(() => speech.said.map((s) => s.text)).toEqual(['Third']);
  });

  it('a phone that cannot speak shows no button', () => {
    vi.stubGlobal('speechSynthesis', undefined);
    // It does not even have the name.
    delete (globalThis as { speechSynthesis?: unknown }).speechSynthesis;
    render(<Question />);
    expect(screen.queryByRole('button', { name: 'Read aloud' })).toBeNull();
  });
});

describe('the voice', () => {
  it('is of the language, of its region first, and always on the device', () => {
    const all = [
      voice('a', 'es-ES'),
      voice('b', 'es_MX'),
      voice('c', 'en-US', false),
      voice('d', 'en-GB'),
      voice('e', 'en-AU', true, true),
    ];
    expect(voiceFor(all, 'es-MX')?.name).toBe('b');
    expect(voiceFor(all, 'es')?.name).toBe('a');
    expect(voiceFor(all, 'en')?.name).toBe('e');
    expect(voiceFor(all, 'ar')).toBeUndefined();
    expect(voiceFor([], 'en')).toBeUndefined();
  });
});

describe('the words of a page', () => {
  it('leave out tables, drawings and what is folded away', () => {
    const page = document.createElement('main');
    page.append(...['h1', 'p', 'table', 'p'].map((name, i) => Object.assign(document.createElement(name), { textContent: `part ${i} ` })));
    page.lastElementChild?.setAttribute('aria-hidden', 'true');
    expect(wordsOf(page)).toEqual(['part 0', 'part 1']);
  });
});
