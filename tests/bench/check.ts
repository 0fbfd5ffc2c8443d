import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { checkItems } from '../../app/care/check/items.ts';
import { CHECK } from '../browser/app.ts';
import { kb, median, ms, type Row, times } from './figures.ts';
import { type Audited, audit } from './lighthouse.ts';
import { plan } from './made.ts';
import { demoPage, type Phone, serve, slowDown, takePhone } from './phone.ts';
import { buildForm } from './rival/build.ts';
import { answerWords } from './rival/pages.ts';

const LOADS = 3;
const RUNS = 7;
const LIBRARY = 'a form library';

/** The daily check against the same questions in a general-purpose form library on a static page (react-jsonschema-form). */
export async function check(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'tendbook-form-'));
  await buildForm(folder);
  const [app, form] = [await serve(), await serve(`${folder}/`)];
  const phone = await takePhone(app.address);
  const page = await demoPage(phone);
  try {
    return [...(await loading(phone, `${app.address}#/check`, form.address)), ...(await answering(phone, page, form.address))];
  } finally {
    await phone.close();
    app.close();
    form.close();
    rmSync(folder, { recursive: true });
  }
}

/** Until the first question stands; the plan is on the phone, and nothing of the site in its cache. */
async function loading(phone: Phone, ours: string, theirs: string): Promise<Row[]> {
  const found = { ours: [] as Audited[], theirs: [] as Audited[] };
  for (let i = 0; i < LOADS; i += 1) {
    found.ours.push(await audit(phone, ours, { categories: ['performance'] }));
    found.theirs.push(await audit(phone, theirs, { categories: ['performance'] }));
  }
  const of = (list: readonly Audited[], pick: (a: Audited) => number): number => median(list.map(pick));
  const row = (what: string, show: (value: number) => string, pick: (a: Audited) => number): Row => {
    const [own, other] = [of(found.ours, pick), of(found.theirs, pick)];
    return { what: `daily check: ${what}`, ours: show(own), against: `${show(other)} with ${LIBRARY}`, ratio: times(own / other) };
  };
  return [row('transferred until the first question, gzip', kb, (a) => a.bytes), row('largest paint', ms, (a) => a.largestPaintMs)];
}

/** Answering in the page: each answer is found by its words, as a person finds it, and each page is waited for until it is painted. */
interface Script {
  /** What to press or type on each page. */
  steps: { words: string[]; number?: string }[];
  next: string;
  /** The page that comes after the last question, by its heading. */
  isDone: string;
}

const STEPS = checkItems(plan).map(({ question }) => {
  const code = CHECK.find(([id]) => id === question.id)?.[1];
  if (question.kind === 'temperature') return { words: ['°C', 'in the mouth'], number: code ?? '' };
  return { words: code === undefined ? [] : [answerWords(question, code)] };
});

/** Runs in the page. @returns ms from the first press to the page after the last question. */
async function answerAll({ steps, next, isDone }: Script): Promise<number> {
  const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));
  const until = async <T>(find: () => T | null | undefined | false): Promise<T> => {
    for (let i = 0; i < 600; i += 1) {
      const found = find();
      if (found) return found;
      await frame();
    }
    throw new Error(`waited in vain on "${document.querySelector('h1')?.textContent}"`);
  };
  const labelled = (words: string) =>
    [...document.querySelectorAll('label')].find((l) => [l, ...l.querySelectorAll('span')].some((e) => e.textContent?.trim() === words));
  const heading = () => document.querySelector('h1')?.textContent ?? '';
  await until(() => heading() !== '' && document.querySelector(next));
  const began = performance.now();
  for (const { words, number } of steps) {
    const before = heading();
    if (number !== undefined) {
      const field = await until(() => document.querySelector<HTMLInputElement>('input[type=text], input[type=number]'));
      // As typing does: frameworks watch the property.
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set?.call(field, number);
      field.dispatchEvent(new Event('input', { bubbles: true }));
      await frame();
    }
    for (const choice of words) {
      (await until(() => labelled(choice)?.querySelector('input'))).click();
      await frame();
    }
    (await until(() => document.querySelector<HTMLButtonElement>(next))).click();
    await until(() => heading() !== before);
    await frame();
  }
  await until(() => document.querySelector(isDone));
  return performance.now() - began;
}

async function answering(phone: Phone, ours: Page, form: string): Promise<Row[]> {
  const theirs = await phone.context.newPage();
  await slowDown(ours);
  await slowDown(theirs);
  const once = {
    ours: async () => {
      await ours.bringToFront();
      await ours.goto('./#/check');
      await ours.locator('.place[data-place=check]').waitFor();
      return ours.evaluate(answerAll, { steps: STEPS, next: 'footer .button-main', isDone: '.place[data-place=checked] h1' });
    },
    theirs: async () => {
      await theirs.bringToFront();
      await theirs.goto(form);
      return theirs.evaluate(answerAll, { steps: STEPS, next: 'button[type=submit]', isDone: '#root > h1' });
    },
  };
  const found = { ours: [] as number[], theirs: [] as number[] };
  for (let i = 0; i < RUNS; i += 1) {
    found.ours.push(await once.ours());
    found.theirs.push(await once.theirs());
  }
  const [own, other] = [median(found.ours), median(found.theirs)];
  return [
    {
      what: `daily check: ${STEPS.length} questions answered by script, processor slowed 4 ×`,
      ours: ms(own),
      against: `${ms(other)} with ${LIBRARY}`,
      ratio: times(own / other),
    },
  ];
}
