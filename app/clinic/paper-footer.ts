/** A text as a string of CSS (CSS Syntax, 4.3.5): what could end it or begin an escape is written by number. */
export const cssString = (text: string): string =>
  `"${text.replace(/["\\\n\r\f<]/g, (sign) => `\\${sign.codePointAt(0)?.toString(16)} `)}"`;

/**
 * A line at the foot of every printed page with the page's number. The text is
 * the person's own, so it cannot stand in the site's style file. Browsers
 * without margin boxes print no foot.
 * @returns takes the line away again.
 */
export function setFooter(text: string): () => void {
  const sheet = new CSSStyleSheet();
  const of = 'counter(page) " / " counter(pages)';
  sheet.replaceSync(`@page { @bottom-center { content: ${cssString(`${text} · `)} ${of}; font: 10pt sans-serif; } }`);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  return () => {
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((s) => s !== sheet);
  };
}
