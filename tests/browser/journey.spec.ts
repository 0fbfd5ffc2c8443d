import { doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, TUESDAY_NIGHT, test, title, toTheLook, turn, visit } from './app.ts';
import { say } from './say.ts';

test('from the first start to the demo, a check, a change and the log', async ({ page }) => {
  await page.goto('./');
  await expect(title(page)).toHaveText(say('welcome:title'));
  await page.getByRole('button', { name: say('welcome:demo') }).click();
  await expect(title(page)).toHaveText(say('welcome:confirmNew'));
  await expect(page.getByText('Alder Street Foot Clinic').first()).toBeVisible();
  await main(page).click();
  await expect(page.getByText(say('today:now.check'))).toBeVisible();

  await doCheck(page);
  await expect(title(page)).toHaveText(say('alert:title.carryOn'));
  await expect(page.getByText(say('alert:lead.carryOn'))).toBeVisible();

  await doChange(page);
  await expect(title(page)).toHaveText(say('change:doneTitle'));
  await visit(page, 'log');
  await expect(page.locator('.row')).toHaveCount(3);
  await page.getByRole('link', { name: say('log:kind.change') }).click();
  await expect(page.getByText(say('check:drainageAmount.said.light')).first()).toBeVisible();
  await expect(page.getByText(say('log:state.skipped'))).toHaveCount(0);
});

test('[fever] [redness-spreading] a fever with spreading redness ends on the emergency page with the right number', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { temperature: '38.4' }, { answerRest: true });
  await expect(title(page)).toHaveText(say('alert:title.callNow'));
  await expect(page.getByRole('link', { name: say('alert:call.clinic') })).toHaveAttribute('href', 'tel:+13125550142');

  await doChange(page, { redness: 'spreading' });
  await expect(title(page)).toHaveText(say('alert:title.emergency'));
  const first = page.locator('footer a, footer button').first();
  await expect(first).toHaveAttribute('href', 'tel:911');
  await page.getByRole('button', { name: say('change:coverNow') }).click();
  await expect(title(page)).toHaveText(say('change:step.dryDressing.title'));
  for (let step = 0; step < 5; step += 1) await turn(page);
  await expect(title(page)).toHaveText(say('alert:title.emergency'));
});

test('[sepsis-sign] a sign of sepsis ends the check at once', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { unwell: 'shakingChills' });
  await expect(title(page)).toHaveText(say('alert:title.emergency'));
  await expect(page.locator('footer a')).toHaveAttribute('href', 'tel:911');
  await expect(page.getByText(say('check:unwell.said.shakingChills'), { exact: false }).first()).toBeVisible();
});

test('[one-sign] after hours the call goes to the after-hours phone', async ({ page }) => {
  await openDemo(page, TUESDAY_NIGHT);
  await doCheck(page, { pain: 'more' });
  await expect(title(page)).toHaveText(say('alert:title.callToday'));
  await expect(page.locator('footer a')).toHaveAttribute('href', 'tel:+13125550187');
});

test('an alert stays on the first page until what happened is written down', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { pain: 'more' });
  await visit(page, 'today');
  await page.locator('.open-alert').click();
  await page.getByRole('button', { name: say('alert:outcome.couldNotReach') }).click();
  await turn(page);
  await visit(page, 'today');
  await expect(page.locator('.open-alert')).toBeVisible();
  await page.locator('.open-alert').click();
  await page.getByRole('button', { name: say('alert:outcome.reached') }).click();
  await page.getByLabel(say('alert:tellField.reached')).fill('Come in tomorrow at nine.');
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await expect(page.locator('.open-alert')).toHaveCount(0);
  await visit(page, 'log');
  await expect(page.getByText('Come in tomorrow at nine.')).toBeVisible();
});

test('[unresolved] an alert nobody answered gets graver with time', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { temperature: '38.4' });
  await page.getByRole('button', { name: say('check:stopAndCall') }).click();
  await expect(page).toHaveURL(/#\/alert\//);
  await page.clock.setFixedTime('2031-03-04T16:31:00Z');
  await visit(page, 'today');
  await expect(page.getByText(say('alert:departmentTitle'), { exact: false }).first()).toBeVisible();
});

test('[plan-says-call] an amount the plan has no recipe for leads to the short path', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await doChange(page, { drainageAmount: 'heavy' });
  await expect(title(page)).toHaveText(say('alert:title.callToday'));
  await visit(page, 'log');
  await page.getByRole('link', { name: say('log:kind.change') }).click();
  await expect(page.getByText(say('change:step.dryDressing.title'))).toBeVisible();
  await expect(page.getByText(say('change:step.clean.title'))).toHaveCount(0);
});

test('a change cannot start without a check, and stopping it keeps what was seen', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'change');
  await expect(title(page)).toHaveText(say('change:checkFirst'));
  await doCheck(page);
  await toTheLook(page);
  await page.getByRole('button', { name: say('common:back') }).click();
  await page.getByRole('button', { name: say('change:stop') }).click();
  await page.getByRole('button', { name: say('change:stopSure') }).click();
  await expect(page.getByText(say('today:dueFirst'))).toBeVisible();
  await visit(page, 'log');
  await expect(page.getByText(say('log:kind.changeStopped'))).toBeVisible();
});
