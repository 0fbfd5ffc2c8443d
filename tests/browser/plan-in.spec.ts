import { readFileSync } from 'node:fs';
import type { Plan } from '../../app/care/plan/plan.ts';
import { planToCode, planToFile } from '../../app/exchange/plan-file.ts';
import { expect, main, openDemo, TUESDAY_MORNING, test, title, turn, visit } from './app.ts';
import { say } from './say.ts';

const { plan: demo } = JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan };

test('a link opens the plan, and the plan leaves the address at once', async ({ page }) => {
  await page.clock.setFixedTime(TUESDAY_MORNING);
  await page.goto(`./#plan=${planToCode(demo)}`);
  await expect(title(page)).toHaveText(say('welcome:confirmNew'));
  await expect(page).toHaveURL(/#\/confirm$/);
  await page.reload();
  await expect(title(page)).toHaveText(say('welcome:confirmNew'));
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
});

test('a file opens the plan; a newer version shows what changes; an older one is refused', async ({ page }) => {
  await page.clock.setFixedTime(TUESDAY_MORNING);
  const file = (plan: Plan) => ({ name: 'plan.json', mimeType: 'application/json', buffer: Buffer.from(planToFile(plan)) });
  await visit(page, 'open');
  await page.locator('input[type=file]').setInputFiles(file(demo));
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));

  const next: Plan = { ...demo, revision: 2, clinic: { ...demo.clinic, phone: '+1 312 555 0155' } };
  await visit(page, 'open');
  await page.locator('input[type=file]').setInputFiles(file(next));
  await expect(title(page)).toHaveText(say('welcome:confirmUpdate'));
  await expect(page.getByText('+1 312 555 0142 → +1 312 555 0155')).toBeVisible();
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));

  await visit(page, 'open');
  await page.locator('input[type=file]').setInputFiles(file(demo));
  await expect(title(page)).toHaveText(say('welcome:refusedTitle'));
  await expect(page.getByText('older than the one you use', { exact: false })).toBeVisible();
  await turn(page);
  await visit(page, 'plan');
  await expect(page.getByText('+1 312 555 0155').first()).toBeVisible();
});

test('a damaged link and a wrong file say what to do, and the old plan stays', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  for (const [text, message] of [
    [planToCode(demo).slice(0, 200), 'damaged or cut off'],
    ['see you tomorrow', 'not a plan for this app'],
    ['7.abcdef', 'newer version of the app'],
    [JSON.stringify({ tendbook: 'plan', plan: { ...demo, clinic: { ...demo.clinic, phone: 'call me' } } }), 'phone: is not a phone number'],
  ] as const) {
    await visit(page, 'open');
    await page.getByLabel(say('welcome:pasteField')).fill(text);
    await turn(page);
    await expect(title(page)).toHaveText(say('welcome:refusedTitle'));
    await expect(page.getByText(message, { exact: false })).toBeVisible();
    await expect(page.getByText(say('welcome:refusedKeep'))).toBeVisible();
    await main(page).click();
    await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
  }
});

test('markup in a plan is shown as text and never run', async ({ page }) => {
  const evil = '<img src=x onerror="document.title=1">';
  await page.goto(
    `./#plan=${planToCode({ ...demo, greeting: evil, ownDonts: [evil], person: { ...demo.person, callMe: '<b>Nela</b>' } })}`,
  );
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: '<b>Nela</b>' }));
  await visit(page, 'plan');
  await expect(page.getByText(evil).first()).toBeVisible();
  await expect(page.locator('.main img')).toHaveCount(0);
});

test('help works with no plan at all, and the number follows the region', async ({ page }) => {
  await page.goto('./');
  await page.getByRole('link', { name: say('common:helpNow') }).click();
  await expect(page.getByRole('link', { name: say('alert:call.emergency') })).toHaveAttribute('href', 'tel:911');
  await expect(page.getByText(say('alert:orLocal'))).toBeVisible();
  await page.getByLabel(say('alert:help.region')).selectOption('DE');
  await expect(page.getByRole('link', { name: say('alert:call.emergency') })).toHaveAttribute('href', 'tel:112');
  await page.getByLabel(say('alert:help.region')).selectOption('');
  await expect(page.getByRole('link', { name: say('alert:call.emergency') }).first()).toBeVisible();
});
