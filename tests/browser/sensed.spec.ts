import { expect, test } from './app.ts';
import { heard, unclearControls } from './heard.ts';
import { edgeless, lostBySpacing, lostFocus, moving, unseenChoices } from './sensed.ts';
import { walkAll } from './walk.ts';

const PHONE = { width: 390, height: 844 };
const SMALL = { width: 320, height: 568 };

test('on every screen the focus is somewhere, every control has a name of its own, and wider text loses nothing', async ({ page }) => {
  test.setTimeout(240_000);
  const found: string[] = [];
  await walkAll(page, async (name) => {
    const wrong = [...(await lostFocus(page)), ...unclearControls(await heard(page))];
    await page.setViewportSize(SMALL);
    wrong.push(...(await lostBySpacing(page)));
    await page.setViewportSize(PHONE);
    found.push(...wrong.map((w) => `${name}: ${w}`));
  });
  expect(found).toEqual([]);
});

test.describe('in the colours of a system with few of them, and without motion', () => {
  test.use({ contextOptions: { forcedColors: 'active', reducedMotion: 'reduce' } });
  test('what is chosen is seen on every screen, edges stay, and nothing moves', async ({ page }) => {
    test.setTimeout(240_000);
    const found: string[] = [];
    let chosen = 0;
    await walkAll(page, async (name) => {
      chosen += await page.locator('label:visible:has(input:checked)').count();
      const wrong = [...(await unseenChoices(page)), ...(await edgeless(page)), ...(await moving(page))];
      found.push(...wrong.map((w) => `${name}: ${w}`));
    });
    expect(found).toEqual([]);
    expect(chosen).toBeGreaterThan(5);
  });
});

test('the checks would find a fault', async ({ page }) => {
  await page.goto('./');
  await expect(page.locator('h1')).toBeFocused();
  await page.evaluate(() => {
    const main = document.querySelector('main') as HTMLElement;
    const add = (tag: string, words: string, style: Partial<CSSStyleDeclaration> = {}) => {
      const made = Object.assign(document.createElement(tag), { textContent: words });
      Object.assign(made.style, style);
      main.append(made);
      return made;
    };
    add('button', 'Again');
    add('button', 'Again');
    add('button', '');
    add('p', 'Words in a box of one line', { blockSize: '1lh', inlineSize: '12em', overflow: 'hidden' });
    add('div', 'moves', { transition: 'color 1s' });
    add('button', 'flat', { border: 'none' }).className = 'button-main';
    const label = add('label', 'chosen');
    label.append(Object.assign(document.createElement('input'), { type: 'checkbox', checked: true, hidden: true }));
    (document.activeElement as HTMLElement).blur();
  });
  expect(await lostFocus(page)).toHaveLength(1);
  expect(unclearControls(await heard(page))).toHaveLength(2);
  expect((await lostBySpacing(page)).join()).toContain('cut off by wider text: P');
  expect((await moving(page)).join()).toContain('moves: DIV');
  expect(await unseenChoices(page)).toHaveLength(1);
  expect(await edgeless(page)).toContain('no edge: BUTTON.button-main');
});
