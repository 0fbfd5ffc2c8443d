import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

/**
 * The style of the first words, as it stands in the page itself, so that they
 * are painted before anything else has arrived: on a slow network the number to
 * call is there a whole round trip sooner.
 */
export const FIRST_STYLE = readFileSync(new URL('./style/first.css', import.meta.url), 'utf8')
  .replaceAll(/\/\*[\s\S]*?\*\//g, '')
  .replaceAll(/\s+/g, ' ')
  .replaceAll(/ ?([{};,]) ?/g, '$1')
  .trim();

/** The only style in a page that the policy admits: this one, to the letter. */
export const FIRST_STYLE_SOURCE = `'sha256-${createHash('sha256').update(FIRST_STYLE).digest('base64')}'`;
