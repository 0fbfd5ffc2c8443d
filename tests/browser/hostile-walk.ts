import { expect, type Page } from '@playwright/test';
import { MARK, TURNING_PATTERN } from './hostile-texts.ts';

/** Attributes that do something although they hold what somebody wrote. */
const attributesOf = (page: Page): Promise<string[]> =>
  page.evaluate((mark) => {
    /** They hold words, or what was typed, and do nothing. */
    const words = ['aria-label', 'aria-description', 'aria-valuetext', 'title', 'alt', 'value', 'placeholder', 'content', 'label'];
    return [...document.querySelectorAll('*')].flatMap((element) =>
      [...element.attributes]
        .filter(({ name }) => !words.includes(name))
        .filter(({ name, value }) => name.startsWith('on') || value.includes(mark) || /^\s*javascript:/i.test(value))
        .map(({ name, value }) => `${element.tagName} ${name}="${value.slice(0, 60)}"`),
    );
  }, MARK);

/** Elements that nobody of ours puts there, and links that call something else than a number. */
const elementsOf = (page: Page): Promise<string[]> =>
  page.evaluate((mark) => {
    const filled = [...document.querySelectorAll('script, style')].filter((e) => e.textContent?.includes(mark));
    // The desk's preview of the phone is a page of this site.
    const foreign = document.querySelectorAll('iframe:not([src="./index.html?preview"]), object, embed, base, form[action]');
    const calls = [...document.querySelectorAll('a[href^="tel:" i], a[href*="1900"]')].filter(
      (link) => !/^tel:\+?[0-9*#]+$/.test(link.getAttribute('href') ?? '') || link.getAttribute('href')?.includes('1900'),
    );
    return [...filled, ...foreign, ...calls].map((e) => e.outerHTML.slice(0, 100));
  }, MARK);

const widthOf = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    if (scrollWidth <= clientWidth) return [];
    const within = [...document.querySelectorAll('main *')].find((e) => e.getBoundingClientRect().right > clientWidth + 1);
    return [`${scrollWidth - clientWidth} px too wide: ${within?.outerHTML.slice(0, 100)}`];
  });

/** Words of ours that a text before them turned round: two letters of which the first stands to the right. */
const turnedOn = (page: Page): Promise<string[]> =>
  page.evaluate(
    ([planted]) => {
      const placeOf = (node: Node, at: number): DOMRect => {
        const range = document.createRange();
        range.setStart(node, at);
        range.setEnd(node, at + 1);
        return range.getBoundingClientRect();
      };
      const wrong: string[] = [];
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const behind = new RegExp(`(${planted})[^A-Za-z]*(?=[A-Za-z]{2})`).exec(node.textContent ?? '');
        if (!behind) continue;
        const [first, second] = [0, 1].map((n) => placeOf(node as Node, behind.index + behind[0].length + n)) as [DOMRect, DOMRect];
        if (first.top === second.top && first.left > second.left) wrong.push(`turned round: ${node.textContent?.slice(0, 80)}`);
      }
      return wrong;
    },
    [TURNING_PATTERN] as const,
  );

/** All that a page says, shown, typed or read aloud. */
const saidOn = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const typed = [...document.querySelectorAll<HTMLInputElement>('input, textarea, option')].map((field) => field.value);
    const labels = [...document.querySelectorAll('[aria-label]')].map((e) => e.getAttribute('aria-label'));
    return [document.body.textContent, document.title, ...typed, ...labels].join('\n');
  });

/** Looks at one page after the other, and remembers what was wrong on which and what was read anywhere. */
export class Walk {
  readonly wrong: string[] = [];
  said = '';
  pages = 0;
  constructor(readonly page: Page) {
    page.on('dialog', (dialog) => {
      this.wrong.push(`a dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on('framenavigated', (frame) => {
      if (frame.url().includes(MARK)) this.wrong.push(`went to ${frame.url()}`);
    });
  }
  async see(name: string): Promise<void> {
    const { page } = this;
    const wrong = [...(await attributesOf(page)), ...(await elementsOf(page)), ...(await widthOf(page)), ...(await turnedOn(page))];
    this.wrong.push(...wrong.map((what) => `${name}: ${what}`));
    this.said += await saidOn(this.page);
    this.pages++;
  }
  async go(place: string): Promise<void> {
    await this.page.goto(`./#/${place}`);
    const { page } = this;
    // A place that has nothing to show leads elsewhere.
    await expect(page.locator(`.place[data-place="${place.split('/')[0]}"]`))
      .toBeAttached({ timeout: 2_000 })
      .catch(() => expect(page.locator('.place')).toBeAttached());
    // Some of what one shows is read from the store first.
    await page.waitForTimeout(120);
    await this.see(place);
  }
  /** Texts that were planted and that nobody could read anywhere, letter for letter. */
  unread(planted: ReadonlyMap<string, string>): string[] {
    const plain = (text: string): string => text.replace(/[\u2066-\u2069\u202c]/g, '').replace(/\s+/g, ' ');
    const said = plain(this.said);
    return [...planted].filter(([, text]) => !said.includes(plain(text).trim())).map(([path, text]) => `${path}: ${text.slice(0, 60)}`);
  }
}
