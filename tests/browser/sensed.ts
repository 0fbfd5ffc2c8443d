import type { Page } from '@playwright/test';
import { PNG } from 'pngjs';

/** Checks of a screen as it stands, for whoever hears it, enlarges it, recolours it or stills it. Each gives what is wrong, as lines. */

/** How long a page may take to put the focus where it belongs. */
const FOCUS_MS = 1500;

/** The focus must be somewhere: without it a keyboard starts anew and a screen reader falls silent. */
export async function lostFocus(page: Page): Promise<string[]> {
  const isHeld = () => page.evaluate(() => document.activeElement !== document.body);
  for (const until = Date.now() + FOCUS_MS; Date.now() < until; await page.waitForTimeout(50)) if (await isHeld()) return [];
  return ['the focus is nowhere'];
}

/** Text spacing as WCAG 2.2 SC 1.4.12 has it: line height 1.5, after paragraphs 2, letters 0.12, words 0.16 times the font size. */
const SPACING =
  '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-block-end: 2em !important; }';

/** What is lost with wider text: words cut off by their box, or a page wider than the screen. */
export function lostBySpacing(page: Page): Promise<string[]> {
  return page.evaluate((css) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    const hides = (e: Element) => /hidden|clip/.test(getComputedStyle(e).overflowX + getComputedStyle(e).overflowY);
    const cut = [...document.querySelectorAll<HTMLElement>('body *')]
      .filter((e) => !e.closest('.unseen, svg') && e.clientWidth > 2 && e.textContent?.trim() && hides(e))
      .filter((e) => e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
      .map((e) => `cut off by wider text: ${e.tagName}.${e.className} “${e.textContent?.trim().slice(0, 30)}”`);
    const over = [...document.querySelectorAll<HTMLElement>('.button, h1, .choice, .row, .bar-button, td, th')]
      .filter((e) => !e.closest('.unseen') && e.scrollWidth > e.clientWidth + 1)
      .map((e) => `wider text runs out of ${e.tagName}.${e.className} “${e.textContent?.trim().slice(0, 30)}”`);
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((s) => s !== sheet);
    return [...(wide > 0 ? [`${wide} px too wide with wider text`] : []), ...cut, ...over];
  }, SPACING);
}

/** What still moves for a person who asked for stillness. */
export function moving(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const still = (seconds: string) => seconds.split(',').every((s) => Number.parseFloat(s) === 0);
    const named = (e: Element) => `moves: ${e.tagName}.${e.getAttribute('class') ?? ''}`;
    return [...document.querySelectorAll('body *')]
      .filter((e) => {
        const style = getComputedStyle(e);
        return style.animationName !== 'none' || !still(style.transitionDuration) || style.scrollBehavior === 'smooth';
      })
      .map(named);
  });
}

/** Pixels that differ enough to be seen. */
function differing(a: Buffer, b: Buffer): number {
  const [one, other] = [PNG.sync.read(a), PNG.sync.read(b)];
  if (one.width !== other.width || one.height !== other.height) return Number.POSITIVE_INFINITY;
  let count = 0;
  for (let i = 0; i < one.data.length; i += 4) {
    const apart = [0, 1, 2].reduce((sum, c) => sum + Math.abs((one.data[i + c] ?? 0) - (other.data[i + c] ?? 0)), 0);
    if (apart > 96) count += 1;
  }
  return count;
}
/** About the ring of a radio button. */
const SEEN_PX = 60;

/** Chosen answers that look like those not chosen. Call it where the colours are those of the person's system. */
export async function unseenChoices(page: Page): Promise<string[]> {
  const chosen = page.locator('label:visible:has(input:checked)');
  const found: string[] = [];
  for (let i = 0; i < Math.min(await chosen.count(), 2); i += 1) {
    const label = await chosen.nth(i).elementHandle();
    const input = await label?.$('input');
    if (!label || !input) continue;
    const look = () => label.screenshot({ animations: 'disabled' });
    const put = (on: boolean) => input.evaluate((e, is) => ((e as HTMLInputElement).checked = is), on);
    const before = await look();
    await put(false);
    const after = await look();
    await put(true);
    if (differing(before, after) < SEEN_PX)
      found.push(`it cannot be seen that “${(await label.textContent())?.trim().slice(0, 30)}” is chosen`);
  }
  return found;
}

/** Buttons and fields that have no edge left once backgrounds are taken away. */
export function edgeless(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [
      ...document.querySelectorAll<HTMLElement>(
        '.button-main, .button-second, .button-grave, .step-button, .choice, input[type=text], textarea, select',
      ),
    ]
      .filter((e) => e.checkVisibility())
      .filter((e) => {
        const style = getComputedStyle(e);
        return (
          style.borderTopStyle === 'none' || Number.parseFloat(style.borderTopWidth) === 0 || /^rgba\(.*, 0\)$/.test(style.borderTopColor)
        );
      })
      .map((e) => `no edge: ${e.tagName}.${e.className}`),
  );
}
