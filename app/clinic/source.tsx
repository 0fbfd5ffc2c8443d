import { inARow } from '../words/format.ts';
import { t } from '../words/i18n.ts';

const PAYER = 'CMS LCD L33831';
const IDSA = 'IDSA 2012';
const NG19 = 'NICE NG19';
const SVS = 'SVS/APMA/SVM 2016';

/** Publications behind the rows of the evidence table that the desk names. Names of publications are the same in every language. */
const PUBLICATIONS: Readonly<Record<string, string>> = {
  'EV-DRS-02': 'IWGDF 2023',
  'EV-DRS-04': 'IWGDF 2023',
  'EV-DRS-05': SVS,
  'EV-DRS-06': PAYER,
  'EV-DRS-07': 'NPIAP/EPUAP/PPPIA 2019',
  'EV-DRS-08': IDSA,
  'EV-DRS-09': 'AHCPR 1994',
  'EV-HEA-08': SVS,
  'EV-INF-01': `${IDSA}, IWGDF/IDSA 2023`,
  'EV-INF-06': IDSA,
  'EV-INF-08': 'Lam 2016',
  'EV-INF-09': 'Schmidt & Wrobel',
  'EV-INF-10': NG19,
  'EV-INF-11': NG19,
};

/** The publication behind a row; undefined where it is common practice or our own cautious choice. */
function publicationOf(row: string): string | undefined {
  if (row.startsWith('EV-LCD-')) return PAYER;
  return PUBLICATIONS[row];
}

/** The names behind rows of the evidence table, each once, practice last. */
export function sourceNames(rows: readonly string[]): string[] {
  const names = rows.map((row) => publicationOf(row) ?? t(row === 'cautious' ? 'clinic:source.cautious' : 'clinic:source.practice'));
  const practice = t('clinic:source.practice');
  return [...new Set([...names.filter((n) => n !== practice), ...names.filter((n) => n === practice)])];
}

/** Where a proposal or finding comes from. */
export function Source({ rows }: { rows: readonly string[] }) {
  return <span class="source">{`[${inARow(sourceNames(rows), ';')}]`}</span>;
}
