import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from '@playwright/test';
import type { AxeResults } from 'axe-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Options {
  /** What to leave out, as selectors. */
  exclude?: string[];
  /** Whether axe judges the size of targets; off where a test measures them itself, larger than axe asks. */
  targets?: boolean;
  /** These rules and no others. */
  only?: readonly string[];
}

/** The rules that look at colours. */
export const CONTRAST: readonly string[] = ['color-contrast', 'color-contrast-enhanced', 'link-in-text-block'];

/** What axe finds on the page as it stands: WCAG 2.2 A and AA, and the 7:1 contrast of AAA. */
export async function violations(page: Page, { exclude = [], targets = true, only }: Options = {}): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axeSource);
  const results = await page.evaluate(
    ([left, size, rules]) =>
      (globalThis as unknown as { axe: { run: (context: object, options: object) => Promise<AxeResults> } }).axe.run(
        left.length > 0 ? { exclude: left } : document,
        rules
          ? { runOnly: { type: 'rule', values: rules } }
          : {
              runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
              rules: { 'color-contrast-enhanced': { enabled: true }, ...(size ? {} : { 'target-size': { enabled: false } }) },
            },
      ),
    [exclude, targets, only] as const,
  );
  return results.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`);
}
