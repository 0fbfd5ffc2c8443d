import type { Page } from '@playwright/test';
import { addDays, localDay } from '../../app/care/schedule/day.ts';
import { PLACES } from '../../app/screens/places.tsx';
import { doChange, doCheck, openDemo, visit } from '../browser/app.ts';
import { woundPhoto } from '../browser/wound-photo.ts';
import { median, type Row } from './figures.ts';
import { type Audited, audit, CATEGORIES, type Category } from './lighthouse.ts';
import { makeRecords, plan } from './made.ts';
import { install, type Phone, putRecords, serve, takePhone } from './phone.ts';

/** A run that loses points for speed is repeated, and the middle one counts: one busy moment is no fault of a screen. */
const AGAIN = 2;
const ALL = [...CATEGORIES];

interface Seen {
  address: string;
  scores: Partial<Record<Category, number>>;
  faults: string[];
}

/** Lighthouse on every screen of the patient's app that has an address, the app installed. */
export async function screens(): Promise<Row[]> {
  const site = await serve();
  const phone = await takePhone(site.address);
  const page = phone.context.pages()[0] ?? (await phone.context.newPage());
  const seen: Seen[] = [];
  const look = async (addresses: readonly string[]) => {
    for (const address of addresses) {
      await page.goto('./');
      await visit(page, address);
      // Another tab of the app would take part of the processor.
      await page.goto('about:blank');
      seen.push(await lookAt(phone, `${site.address}#/${address}`, address));
    }
  };
  try {
    await install(page);
    await look(WITHOUT_BOOK);
    await openDemo(page);
    await look(['confirm', ...(await overdue(page))]);
    await look(await lived(page));
  } finally {
    await phone.close();
    site.close();
  }
  return rowsOf(seen);
}

/** Places of a phone without a plan. `demo` is none to stay at: it goes on to `confirm`. */
const WITHOUT_BOOK = ['welcome', 'open', 'scan'];
const ELSEWHERE = ['demo', 'confirm', 'call', ...WITHOUT_BOOK];

/** A book whose last change was long ago: the only time that the page of calls for what time brought about stands. */
async function overdue(page: Page): Promise<string[]> {
  await page.goto('./');
  const last = addDays(localDay(Date.now(), 'America/Chicago'), -10);
  await putRecords(page, plan.person.id, makeRecords(60, { last }));
  return ['call'];
}

const partOf = (page: Page, index: number): string => new URL(page.url()).hash.slice(2).split('/')[index] ?? '';
const idIn = async (page: Page, selector: string): Promise<string> =>
  ((await page.locator(selector).first().getAttribute('href')) ?? '').split('/').at(-1) ?? '';

/** A day is lived in the book: a check, a change, a photo, and a check that says to call. @returns the addresses of all places. */
async function lived(page: Page): Promise<string[]> {
  await page.goto('./');
  await doCheck(page);
  const checked = partOf(page, 1);
  await doChange(page);
  const changed = partOf(page, 1);
  await visit(page, 'take-photo');
  await page.locator('.foot input[type=file]').last().setInputFiles(woundPhoto());
  await page.locator('.foot .button-main:enabled').click();
  await page.locator('.place[data-place=photos]').waitFor();
  await visit(page, 'photos');
  const photo = await idIn(page, 'a[href^="#/photos/"]');
  await doCheck(page, { pain: 'more' });
  const alert = partOf(page, 1);
  await visit(page, 'log');
  const entry = await idIn(page, 'a[href^="#/log/"]');
  const own: Record<string, readonly string[]> = {
    checked: [`checked/${checked}`],
    changed: [`changed/${changed}`],
    alert: [`alert/${alert}`],
    log: ['log', `log/${entry}`, `log/${checked}/correct`],
    supply: ['supply/collagen'],
    used: [`used/${changed}`],
    photos: ['photos', `photos/${photo}`],
    trace: [`trace/${photo}`],
  };
  const places = ['today', ...Object.keys(PLACES)].filter((name) => !ELSEWHERE.includes(name));
  return places.flatMap((name) => own[name] ?? [name]);
}

/** Ids are of no interest to a reader. */
const shown = (address: string): string => address.replace(/\/[^/]{20,}/g, '/…');

async function lookAt(phone: Phone, url: string, address: string): Promise<Seen> {
  const once = () => audit(phone, url, { categories: ALL, installed: true });
  const runs: Audited[] = [await once()];
  while (runs.length <= AGAIN && runs.some((r) => r.scores.performance !== 100)) runs.push(await once());
  const performance = median(runs.map((r) => r.scores.performance ?? Number.NaN));
  const counted = runs.find((r) => r.scores.performance === performance) as Audited;
  return { address: shown(address), scores: counted.scores, faults: counted.faults };
}

const NAMES: Record<Category, string> = {
  performance: 'performance',
  accessibility: 'accessibility',
  'best-practices': 'best practices',
  seo: 'search engines',
};

function rowsOf(seen: readonly Seen[]): Row[] {
  const summary = ALL.map((category): Row => {
    const scores = seen.map((s) => s.scores[category] ?? Number.NaN);
    const least = Math.min(...scores);
    const below = seen.filter((_, i) => scores[i] !== 100).map((s) => `${s.address} ${s.scores[category]}`);
    return {
      what: `Lighthouse, ${NAMES[category]}, on ${seen.length} screens`,
      ours: least === 100 ? '100 on all' : `at least ${least}`,
      ...(below.length > 0 ? { against: `below 100: ${below.length > 4 ? `${below.length} screens` : below.join(', ')}` } : {}),
      ...(category === 'seo' ? {} : { goal: '100' }),
    };
  });
  const each = seen.map(
    ({ address, scores, faults }): Row => ({
      what: `  screen ${address}`,
      ours: ALL.map((category) => scores[category]).join(' / '),
      ...(faults.length > 0 ? { against: faults.join(', ') } : {}),
      detail: true,
    }),
  );
  return [...summary, ...each];
}
