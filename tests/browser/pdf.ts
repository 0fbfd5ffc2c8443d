import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** What a PDF holds, as an independent reader sees it. */
export interface PdfContent {
  pages: number;
  /** Page size in points. */
  width: number;
  height: number;
  /** All text, each run of spaces as one. */
  text: string;
  images: number;
  /** Colours that are no shade of grey, as `r,g,b`. */
  colours: string[];
}

export async function readPdf(bytes: Uint8Array): Promise<PdfContent> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const content: PdfContent = { pages: pdf.numPages, width: 0, height: 0, text: '', images: 0, colours: [] };
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number);
    const [, , width = 0, height = 0] = page.view;
    Object.assign(content, { width: Math.round(width), height: Math.round(height) });
    const { items } = await page.getTextContent();
    content.text += `${items.map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : '')).join('')} `;
    const { fnArray, argsArray } = await page.getOperatorList();
    fnArray.forEach((operator, i) => {
      if (operator === OPS.paintImageXObject) content.images += 1;
      if (operator !== OPS.setFillRGBColor && operator !== OPS.setStrokeRGBColor) return;
      const [red, green, blue] = Array.from(argsArray[i] as ArrayLike<number>);
      if (red !== green || green !== blue) content.colours.push([red, green, blue].join());
    });
  }
  content.text = content.text.replace(/[\s\u00a0\u2009\u202f]+/g, ' ');
  return content;
}
