import { BANDS } from '../../care/check/questions.ts';
import type { DrainagePart, DrainageRow } from '../../care/visit/changes-part.ts';
import { spansOf } from '../../care/visit/spans.ts';
import { formatShortDay, formatSpan } from '../../words/figures.ts';
import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useSay } from './speak.tsx';
import { Table, type TableRow } from './table.tsx';
import { missing } from './visit-words.ts';

/** So many changes have a row of their own; more are put together by weeks. */
const ROWS_MOST = 16;

/** Drainage by change against the plan's range; by weeks where there are many changes. */
export function DrainageTable({ drainage }: { drainage: DrainagePart }) {
  const say = useSay();
  const { rows, above, below, fit } = drainage;
  if (rows.length === 0) return <p>{say(() => t('visit:drainage.none'))}</p>;
  return say(() => {
    const looks = t('visit:drainage.looks', { count: rows.length });
    return (
      <>
        <p>{t('visit:drainage.sum', { looks, above: formatNumber(above), below: formatNumber(below) })}</p>
        {expectedLines(rows).map((line) => (
          <p key={line}>{line}</p>
        ))}
        {fit && <p class="visit-open">{t(`visit:drainage.fit.${fit.says}`, { count: fit.changes.length })}</p>}
        {rows.length <= ROWS_MOST ? (
          <Table class="visit-dated" {...byChange(rows)} />
        ) : (
          <Table class="visit-dated visit-numbers" {...bySpan(rows)} />
        )}
      </>
    );
  });
}

const amountText = (amount: DrainageRow['amount']): string =>
  amount === undefined ? t('visit:drainage.notSeen') : t(`check:drainageAmount.said.${amount}`);

function foundText({ amount, colour }: DrainageRow): string {
  const hasColour = colour !== undefined && colour !== 'clear';
  return [amountText(amount), ...(hasColour ? [t(`check:drainageColour.said.${colour}`)] : [])].join(', ');
}

function rangeText(range: DrainageRow['expected']): string {
  if (!range) return missing();
  const [low, high] = range;
  return low === high ? amountText(low) : t('visit:drainage.range', { least: amountText(low), most: amountText(high) });
}

/** What the plan expects; where it changed within the rows, from which day on. */
function expectedLines(rows: readonly DrainageRow[]): string[] {
  const turns = rows.filter((row, i) => i === 0 || rangeText(row.expected) !== rangeText(rows[i - 1]?.expected));
  return turns.map(({ day, expected }, i) => {
    const range = rangeText(expected);
    return i === 0 ? t('visit:drainage.expected', { range }) : t('visit:drainage.expectedFrom', { day: formatShortDay(day), range });
  });
}

function byChange(rows: readonly DrainageRow[]) {
  return {
    head: [t('visit:day'), t('visit:drainage.found'), t('visit:drainage.stands')],
    rows: rows.map(
      (row): TableRow => ({
        key: row.change,
        cells: [formatShortDay(row.day), foundText(row), t(`visit:drainage.place.${row.place}`)],
        mark: row.place === 'above' || row.place === 'below' ? row.place : undefined,
      }),
    ),
  };
}

function bySpan(rows: readonly DrainageRow[]) {
  return {
    head: [t('visit:day'), ...BANDS.map(amountText), t('visit:drainage.otherwise'), t('visit:drainage.place.above')],
    rows: spansOf(rows, ROWS_MOST).map(({ from, to, counts, above }): TableRow => {
      const numbers = [...BANDS.map((b) => counts[b]), counts.unsure + counts.notSeen, above];
      return { key: from, cells: [formatSpan(from, to), ...numbers.map((n) => formatNumber(n))] };
    }),
  };
}
