import { type Plan, readPlan } from '../care/plan/plan.ts';

/** What the take-home page shows. */
export interface PaperContent {
  plan: Plan;
  /** The texts of the QR codes; none when the plan travels as a file only. */
  codes: string[];
  /** The check-words of the clinic's key, in the person's language. */
  words: string[];
  /** Where the app is, for a phone whose camera reads no code. */
  address: string;
}

/** Opens the take-home page in a tab of its own and gives it the plan when it asks, as often as it is loaded anew. */
export function openPaper(content: PaperContent): void {
  const tab = window.open('./clinic.html?paper', '_blank');
  if (!tab) return;
  const heard = (event: MessageEvent) => {
    if (event.source !== tab || event.origin !== location.origin) return;
    if ((event.data as { tendbook?: unknown } | null)?.tendbook === 'paperReady')
      tab.postMessage({ tendbook: 'paper', content }, location.origin);
  };
  window.addEventListener('message', heard);
}

const isTexts = (value: unknown): value is string[] => Array.isArray(value) && value.every((v) => typeof v === 'string');

/** Asks the desk for the plan. Only the page that opened this one is listened to. */
export function askForPaper(take: (content: PaperContent) => void): void {
  const desk = window.opener as Window | null;
  window.addEventListener('message', (event) => {
    if (event.source !== desk || event.origin !== location.origin) return;
    const data = event.data as {
      tendbook?: unknown;
      content?: { plan?: unknown; codes?: unknown; words?: unknown; address?: unknown };
    } | null;
    if (data?.tendbook !== 'paper') return;
    const reading = readPlan(data.content?.plan);
    const { codes, words, address } = data.content ?? {};
    if (reading.ok && isTexts(codes) && isTexts(words) && typeof address === 'string') take({ plan: reading.plan, codes, words, address });
  });
  desk?.postMessage({ tendbook: 'paperReady' }, location.origin);
}
